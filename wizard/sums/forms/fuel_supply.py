"""Fuel supply: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..fuel_supply import line_pressure_drop_kpa, pump_current_a, pump_flow_needed_l_h
from .air import BSFC, POWER
from .fuel import DENSITY
from .shapes import ARITHMETIC, Param, Source, Sum, make_sum

VOLTAGE = Param("voltage_v", "Voltage at the load", "V", 6, 16, measure="Measure at the load, engine running.",
                usual=13.5, falls=True)
_RESERVE = Param("reserve_percent", "Reserve", "%", 0, 100, measure="The trade keeps 15 to 20.", usual=20)
FLOW = Param("flow_l_h", "Flow", "L/h", 5, 1500, measure="Time the flow into a can, outdoors, no flame.", usual=190)
_EFFICIENCY = Param("efficiency_percent", "Efficiency of the pump", "%", 5, 80,
                    measure="About 25 to 35 for common pumps; read it off the pump's curve.", usual=30, falls=True)
_PRESSURE = Param("pressure_kpa", "Pressure the pump works against", "kPa", 20, 1000,
                  measure="Gauge at the pump side of the rail.", usual=400)
_LINE = (Param("bore_mm", "Inside diameter of the line", "mm", 3, 25, measure="Measure the bore, not the outside.",
               usual=7.9, falls=True),
         Param("length_m", "Length of the line", "m", 0.1, 20, measure="Measure along the line.", usual=5),
         Param("density_kg_m3", "Fuel density", "kg/m³", 650, 900, measure="About 745 for petrol.", usual=745),
         Param("viscosity_mpa_s", "Viscosity", "mPa s", 0.2, 3, measure="About 0.5 for petrol and 1.2 for ethanol at 20 °C.",
               usual=0.5))
_DARCY: Source = ("published", "Darcy-Weisbach and Blasius equations, as documented by the open library fluids.")

SUMS: tuple[Sum, ...] = (
    make_sum("fuel", pump_flow_needed_l_h, "Pump flow needed", (POWER, BSFC, DENSITY, _RESERVE), "L/h",
             "kW × g/kWh ÷ 1000 ÷ density in kg/L × (1 + reserve ÷ 100)",
             (ARITHMETIC, ("common-practice", "Reserve of 15 to 20 %.")), 0.1, 3,
             notes=("At working pressure (base plus boost where referenced) and at the voltage the pump really gets.",)),
    make_sum("fuel", pump_current_a, "Pump current", (FLOW, _PRESSURE, _EFFICIENCY, VOLTAGE), "A",
             "litres per hour × kPa ÷ 3600 ÷ (efficiency ÷ 100) ÷ volts",
             (ARITHMETIC, ("common-practice", "Pump efficiency of 25 to 35 %.")), 0.2, 3),
    make_sum("fuel", line_pressure_drop_kpa, "Pressure drop in a fuel line", (FLOW, *_LINE), "kPa",
             "f × length ÷ bore × density × velocity² ÷ 2; f = the larger of 64 ÷ Re and 0.3164 ÷ Re^0.25; "
             "Re = density × velocity × bore ÷ viscosity; velocity = flow ÷ (0.9 × π × bore²)",
             (_DARCY,), 0.1, 3,
             notes=("Bends, filters and quick connectors come on top.",)),
)
