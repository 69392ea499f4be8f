"""Cooling: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..cooling import coolant_flow_l_min, fan_current_a, fan_inrush_a, heat_to_coolant_kw, relay_rating_a
from .air import POWER
from .shapes import ARITHMETIC, Param, Source, Sum, make_sum

_RUNNING = Param("running_a", "Running current", "A", 1, 120, measure="Measure with a clamp, engine bay hot.", usual=20)
_FACTOR: Source = ("from-memory", "Inrush 3 to 6 times the running current; some quote 2 to 3.")
_MIX: Source = ("published", "Properties of half glycol, half water by mass at 90 °C from the open library CoolProp.")

SUMS: tuple[Sum, ...] = (
    make_sum("cooling", fan_current_a, "Running current of the cooling fans",
             (Param("fans", "Number of fans", "fans", 1, 4, True, "Count them.", 2),
              Param("fan_w", "Power of one fan", "W", 20, 1200, measure="Read the plate, or volts × amperes.", usual=250),
              Param("voltage_v", "Voltage at the fan", "V", 8, 16, measure="Measure running.", usual=13, falls=True)),
             "A", "number × watts ÷ volts", (ARITHMETIC,), 0.1, 3),
    make_sum("cooling", fan_inrush_a, "Current while a fan starts",
             (_RUNNING, Param("inrush_factor", "Inrush over running current", "times", 1, 8,
                              measure="Read the peak with a clamp that holds it.", usual=4)), "A",
             "running × factor", (_FACTOR,), 0.3, 2, notes=("It lasts a fraction of a second; the fuse must ride it out.",)),
    make_sum("cooling", relay_rating_a, "Rating of the fan relay",
             (_RUNNING, Param("reserve_percent", "Reserve", "%", 0, 100, measure="The trade keeps 25 to 33.", usual=30)),
             "A", "running × (1 + reserve ÷ 100)", (("common-practice", "Reserve of 25 to 33 %."),), 0.0, 3,
             notes=("A fan motor is never driven from a controller's output directly.",)),
    make_sum("cooling", heat_to_coolant_kw, "Heat to the coolant",
             (POWER, Param("share_percent", "Heat to the coolant over crank power", "%", 20, 150,
                           measure="About 60 to 100 at full load.", usual=80)), "kW", "power × share ÷ 100",
             (("common-practice", "Heat to the coolant of 60 to 100 % of crank power."),), 0.2, 2),
    make_sum("cooling", coolant_flow_l_min, "Coolant flow",
             (Param("heat_kw", "Heat to carry off", "kW", 1, 800, measure="Work it out from power.", usual=60),
              Param("rise_k", "Rise across the engine", "K", 2, 25, measure="Measure in and out, thermostat open.",
                    usual=8, falls=True),
              Param("heat_capacity_kj_kgk", "Heat capacity of the coolant", "kJ/kg K", 2.5, 4.3,
                    measure="3.62 for half glycol by mass at 90 °C, 4.2 for water.", usual=3.616, falls=True),
              Param("density_kg_m3", "Density of the coolant", "kg/m³", 900, 1150,
                    measure="1019 for half glycol by mass at 90 °C.", usual=1019, falls=True)), "L/min",
             "60 000 × kW ÷ (heat capacity × rise × density)", (_MIX, ARITHMETIC), 0.02, 3),
)
