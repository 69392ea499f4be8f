"""Charging: alternator and belt speed, load against output, cable drop, and what turns the alternator on."""
from __future__ import annotations

import math

from .copper import IEC_60228, stranded_resistance_ohm_km
from .gearing import ENGINE_RPM
from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum
from .wire import CURRENT, LENGTH, SECTION, TEMP


def alternator_speed_rpm(engine_rpm: float, crank_pulley_mm: float, alternator_pulley_mm: float) -> float:
    """Return alternator speed in rpm, belt slip neglected.

    Formula: engine rpm × crank pulley / alternator pulley. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return engine_rpm * crank_pulley_mm / alternator_pulley_mm


def belt_speed_m_s(engine_rpm: float, crank_pulley_mm: float) -> float:
    """Return belt speed in m/s. Formula: pi × diameter × rpm / 60 000. Range: as the params. Source: geometry."""
    return math.pi * crank_pulley_mm * engine_rpm / 60000.0


def load_current_a(load_w: float, voltage_v: float) -> float:
    """Return the current in A of loads given in watts. Formula: W / V. Range: as the params. Source: arithmetic."""
    return load_w / voltage_v


def charge_balance_a(output_a: float, load_a: float) -> float:
    """Return the current in A left to charge the battery (negative: the battery drains), both at the same speed.

    Formula: output - load. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return output_a - load_a


def charge_cable_drop_v(current_a: float, length_m: float, section_mm2: float, case_mohm: float, temp_c: float) -> float:
    """Return the voltage in V lost between alternator and battery: cable one way, case and strap back.

    Formula: current × (length × ohms per m + case path). Range: as the params; no errors inside it.
    Source: Ohm's law with IEC 60228.
    """
    return current_a * (length_m * stranded_resistance_ohm_km(section_mm2, temp_c) + case_mohm) / 1000.0


def excitation_resistor_ohm(voltage_v: float, excitation_ma: float) -> float:
    """Return the resistor in ohms that feeds a wanted current to a lamp terminal, taken as ground before it turns.

    Formula: 1000 × V / mA. Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return 1000.0 * voltage_v / excitation_ma


def excitation_current_ma(voltage_v: float, resistor_ohm: float) -> float:
    """Return the current in mA through a resistor in the lamp lead. Formula: 1000 × V / ohms. Source: Ohm's law.

    Range: as the params; no errors inside it.
    """
    return 1000.0 * voltage_v / resistor_ohm


def excitation_resistor_w(voltage_v: float, resistor_ohm: float) -> float:
    """Return the heat in W of that resistor with the key on and the engine still. Formula: V² / ohms. Source: Joule.

    Range: as the params; no errors inside it.
    """
    return voltage_v * voltage_v / resistor_ohm


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
             "current × (length × ohms per m + case path)", (IEC_60228, ARITHMETIC), 0.0, 3, _CABLE_BAND, _WARN),
    make_sum("charging", excitation_resistor_ohm, "Resistor for the lamp terminal",
             (_KEY_ON, Param("excitation_ma", "Current wanted", "mA", 10, 1000, measure="Ask for the regulator's data.",
                             usual=150, falls=True)), "Ω", "1000 × volts ÷ milliamperes", (_OHM, _EXCITE.source), 0.0, 3),
    make_sum("charging", excitation_current_ma, "Current into the lamp terminal", (_KEY_ON, _RESISTOR), "mA",
             "1000 × volts ÷ ohms", (_OHM, _EXCITE.source), 0.1, 3, _EXCITE),
    make_sum("charging", excitation_resistor_w, "Heat of the lamp terminal's resistor", (_KEY_ON, _RESISTOR), "W",
             "volts² ÷ ohms", (_OHM,), 0.0, 3, notes=("Rate the resistor for at least twice this.",)),
)
