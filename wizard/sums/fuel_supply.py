"""Fuel supply: pump flow and current, and the pressure a line takes."""
from __future__ import annotations

import math

from .air import BSFC, POWER
from .fuel import DENSITY
from .shapes import ARITHMETIC, Param, Source, Sum, make_sum


def pump_flow_needed_l_h(power_kw: float, bsfc_g_kwh: float, density_kg_l: float, reserve_percent: float) -> float:
    """Return the pump flow in L/h at working pressure and real voltage.

    Formula: kW × g/kWh / 1000 / density × (1 + reserve / 100). Range: as the params; no errors inside it.
    Source: arithmetic; a reserve of 15 to 20 % is common practice.
    """
    return power_kw * bsfc_g_kwh / 1000.0 / density_kg_l * (1.0 + reserve_percent / 100.0)


def pump_current_a(flow_l_h: float, pressure_kpa: float, efficiency_percent: float, voltage_v: float) -> float:
    """Return the current in A of an electric pump.

    Formula: flow × pressure / 3600 gives watts; divided by efficiency and voltage. Range: as the params; no errors
    inside it. Source: hydraulic power is arithmetic; the efficiency is common practice.
    """
    return flow_l_h * pressure_kpa / 3600.0 / (efficiency_percent / 100.0) / voltage_v


def line_reynolds_number(flow_l_h: float, bore_mm: float, density_kg_m3: float, viscosity_mpa_s: float) -> float:
    """Return the Reynolds number of flow in a round line. Formula: 4 ρ Q / (pi d μ). Source: definition."""
    flow_m3_s = flow_l_h / 3.6e6
    return 4.0 * density_kg_m3 * flow_m3_s / (math.pi * bore_mm / 1000.0 * viscosity_mpa_s / 1000.0)


def line_friction_factor(reynolds: float) -> float:
    """Return the Darcy friction factor of a smooth line: the larger of laminar and turbulent flow.

    Formula: max(64 / Re, 0.3164 / Re^0.25). The two meet at Re 1187; from there to 4000, where a line may do
    either, this takes the turbulent, which a library's law for smooth pipes tops by 5 % at most. Range: Re over 0.
    Source: Blasius, 1913.
    """
    return max(64.0 / reynolds, 0.3164 / math.sqrt(math.sqrt(reynolds)))


def line_pressure_drop_kpa(flow_l_h: float, bore_mm: float, length_m: float, density_kg_m3: float,
                           viscosity_mpa_s: float) -> float:
    """Return the pressure in kPa that friction takes in a straight smooth line, bends and fittings not counted.

    Formula: f × length / bore × density × velocity² / 2. Range: as the params; no errors inside it.
    Source: Darcy and Weisbach, with `line_friction_factor`.
    """
    bore_m = bore_mm / 1000.0
    velocity = flow_l_h / 3.6e6 / (math.pi / 4.0 * bore_m * bore_m)
    factor = line_friction_factor(line_reynolds_number(flow_l_h, bore_mm, density_kg_m3, viscosity_mpa_s))
    return factor * length_m / bore_m * density_kg_m3 * velocity * velocity / 2.0 / 1000.0


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
             "f × length ÷ bore × density × velocity² ÷ 2; f = the larger of 64 ÷ Re and 0.3164 ÷ Re^0.25",
             (_DARCY,), 0.1, 3,
             notes=("Bends, filters and quick connectors come on top.",)),
)
