"""Charging: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..charging import (alternator_speed_rpm, belt_speed_m_s, charge_balance_a, charge_cable_drop_v,
                        excitation_current_ma, excitation_resistor_ohm, excitation_resistor_w, load_current_a)
from .copper import IEC_60228
from .gearing import ENGINE_RPM
from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum
from .wire import CURRENT, LENGTH, SECTION, TEMP

_CRANK = Param("crank_pulley_mm", "Crank pulley diameter", "mm", 60, 300, measure="Measure where the belt runs.", usual=165)
_PULLEY = Param("alternator_pulley_mm", "Alternator pulley diameter", "mm", 40, 150,
                measure="Measure where the belt runs.", usual=60, falls=True)
_VOLTS = Param("voltage_v", "Voltage", "V", 8, 16, measure="Measure running.", usual=14)
_KEY_ON = _VOLTS._replace(measure="Measure with the key on and the engine still.", usual=12.5)
_RESISTOR = Param("resistor_ohm", "Resistor", "Ω", 5, 2000, measure="Ohmmeter, unplugged.", usual=100, falls=True)
_CASE = Param("case_mohm", "Case, block and strap back to the battery", "mΩ", 0, 50,
              measure="Measure the drop over them at a known current.", usual=1)
_LIMIT = Band(1000.0, 18000.0, "Many alternators give little below 1500 to 2000 rpm and should stay under about "
                               "18 000 rpm: ask for the limits of yours.",
              ("common-practice", "Alternator speed limits."))
_EXCITE = Band(50.0, 250.0, "The trade feeds 50 to 250 mA: ask for the regulator's data.",
               ("from-memory", "Excitation current of 50 to 250 mA."))
_CABLE_BAND = Band(None, 0.3, "The trade allows 0.3 V at full output.", ("common-practice", "0.3 V in the charge cable."))
_OHM: Source = ARITHMETIC
_WARN = ("Never run the engine with the battery disconnected: the surge kills electronics.",)

SUMS: tuple[Sum, ...] = (
    make_sum("charging", alternator_speed_rpm, "Alternator speed", (ENGINE_RPM, _CRANK, _PULLEY), "rpm",
             "engine rpm × crank pulley ÷ alternator pulley", (ARITHMETIC,), 0.02, 4, _LIMIT),
    make_sum("charging", belt_speed_m_s, "Belt speed", (ENGINE_RPM, _CRANK), "m/s",
             "π × crank pulley in mm × rpm ÷ 60 000", (ARITHMETIC,), 0.0, 3),
    make_sum("charging", load_current_a, "Current of the loads",
             (Param("load_w", "All loads together", "W", 1, 6000, measure="Add the ratings of all that runs.", usual=770),
              _VOLTS._replace(falls=True)), "A", "watts ÷ volts", (ARITHMETIC,), 0.1, 3),
    make_sum("charging", charge_balance_a, "What is left for the battery",
             (Param("output_a", "Alternator output, hot, at this speed", "A", 0, 400,
                    measure="Read the curve of the alternator, or measure with a clamp.", usual=60),
              Param("load_a", "Load at this speed", "A", 0, 400, measure="Measure with a clamp.", usual=55, falls=True)),
             "A", "output - load", (ARITHMETIC,), 0.0, 3,
             Band(0.0, None, "Hot idle output must be above the steady load.",
                  ("common-practice", "Output at hot idle above the continuous load."))),
    make_sum("charging", charge_cable_drop_v, "Voltage lost between alternator and battery",
             (CURRENT._replace(usual=100), LENGTH._replace(usual=3), SECTION._replace(usual=25), _CASE, TEMP), "V",
             "current × (length × ohms per km + case path) ÷ 1000", (IEC_60228, ARITHMETIC), 0.0, 3, _CABLE_BAND, _WARN),
    make_sum("charging", excitation_resistor_ohm, "Resistor for the lamp terminal",
             (_KEY_ON, Param("excitation_ma", "Current wanted", "mA", 10, 1000, measure="Ask for the regulator's data.",
                             usual=150, falls=True)), "Ω", "1000 × volts ÷ milliamperes", (_OHM, _EXCITE.source), 0.0, 3),
    make_sum("charging", excitation_current_ma, "Current into the lamp terminal", (_KEY_ON, _RESISTOR), "mA",
             "1000 × volts ÷ ohms", (_OHM, _EXCITE.source), 0.1, 3, _EXCITE),
    make_sum("charging", excitation_resistor_w, "Heat of the lamp terminal's resistor", (_KEY_ON, _RESISTOR), "W",
             "volts² ÷ ohms", (_OHM,), 0.0, 3, notes=("Rate the resistor for at least twice this.",)),
)
