"""Fuel at the injector: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..fuel import (blend_air_fuel_ratio, blend_density_kg_l, blend_flow_factor, injector_duty_percent,
                    injector_flow_at_pressure_cc_min, injector_flow_needed_cc_min, injector_pressure_fixed_kpa,
                    power_supported_kw, rail_pressure_referenced_kpa)
from .air import AMBIENT, BSFC, POWER
from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum

DENSITY = Param("density_kg_l", "Fuel density", "kg/L", 0.65, 0.9,
                measure="About 0.745 for petrol; read it from the fuel's data.", usual=0.745, falls=True)
INJECTORS = Param("injectors", "Number of injectors", "injectors", 1, 16, True, "Count them.", 8, falls=True)
DUTY = Param("duty_percent", "Highest duty", "%", 10, 100, measure="The trade stops at 80 to 85.", usual=85, falls=True)
INJECTOR_FLOW = Param("injector_cc_min", "Flow of one injector at the pressure it sees", "cc/min", 30, 5000,
                      measure="Read the flow sheet and its pressure; correct for your pressure.", usual=300)
_RATED = Param("rated_kpa", "Pressure the flow was rated at", "kPa", 50, 1000,
               measure="Read it on the flow sheet; 300 is common.", usual=300, falls=True)
_PRESSURE = Param("pressure_kpa", "Pressure across the injector", "kPa", 50, 1000,
                  measure="Rail pressure less manifold pressure.", usual=400)
_RAIL = Param("rail_kpa", "Rail gauge pressure", "kPa", 200, 800,
              measure="Gauge at the rail, key on. Mind the fire: no flame, rags, eye protection.", usual=400)
_MANIFOLD = Param("manifold_kpa", "Manifold absolute pressure", "kPa", 15, 400,
                  measure="Read it on live data.", usual=35)
ETHANOL = Param("ethanol_percent", "Ethanol in the fuel, by volume", "%", 0, 100,
                measure="Use a test kit or the reading of an ethanol sensor.", usual=85)
PETROL_DENSITY = Param("petrol_kg_l", "Density of the petrol part", "kg/L", 0.70, 0.785,
                       measure="About 0.745; read it from the fuel's data.", usual=0.745)
DUTY_BAND = Band(None, 85.0, "The trade stops at 80 to 85 %; above 90 % a larger injector or more pressure is needed.",
                 ("common-practice", "Highest duty of 80 to 85 %."))
ISO_5167: Source = ("published", "ISO 5167-2 orifice equation, as documented by the open library fluids.")
AFDC: Source = ("published", "US DOE Alternative Fuels Data Center, Fuel properties comparison: 14.7 and 9 (reprint).")
_GUESS: Source = ("common-practice", "Fuel used per unit of work and highest duty are the trade's, no source.")
_FLOW = (POWER, BSFC, INJECTORS)
_BLEND = "(1 - x) × petrol density + x × 0.789"

SUMS: tuple[Sum, ...] = (
    make_sum("fuel", injector_flow_needed_cc_min, "Injector flow needed for a power", (*_FLOW, DUTY, DENSITY),
             "cc/min", "kW × g/kWh ÷ 60 ÷ injectors ÷ (duty ÷ 100) ÷ density in kg/L", (ARITHMETIC, _GUESS), 0.1, 3),
    make_sum("fuel", injector_duty_percent, "Injector duty at a power",
             (*_FLOW, INJECTOR_FLOW._replace(falls=True), DENSITY), "%",
             "100 × kW × g/kWh ÷ 60 ÷ injectors ÷ density in kg/L ÷ injector flow", (ARITHMETIC, _GUESS), 0.1, 3, DUTY_BAND),
    make_sum("fuel", power_supported_kw, "Power that the injectors can feed",
             (INJECTOR_FLOW, INJECTORS._replace(falls=False), DUTY._replace(falls=False), BSFC._replace(falls=True),
              DENSITY._replace(falls=False)), "kW",
             "60 × flow × injectors × duty ÷ 100 × density in kg/L ÷ g/kWh", (ARITHMETIC, _GUESS), 0.1, 3),
    make_sum("fuel", injector_flow_at_pressure_cc_min, "Injector flow at another pressure",
             (INJECTOR_FLOW._replace(name="rated_cc_min", title="Rated flow"), _RATED, _PRESSURE), "cc/min",
             "rated flow × √(pressure ÷ rated pressure)", (ISO_5167,), 0.02,
             notes=("The opening time does not follow this law and needs data of its own.",)),
    make_sum("fuel", injector_pressure_fixed_kpa, "Pressure across an injector, fixed regulator",
             (_RAIL, AMBIENT, _MANIFOLD._replace(falls=True)), "kPa",
             "rail gauge + outside pressure - manifold absolute pressure", (ARITHMETIC,),
             notes=("With a referenced regulator it is the regulator's setting at every load.",)),
    make_sum("fuel", rail_pressure_referenced_kpa, "Rail pressure with a referenced regulator",
             (_RAIL._replace(name="setting_kpa", title="Setting of the regulator"), AMBIENT._replace(falls=True),
              _MANIFOLD), "kPa", "setting + manifold absolute pressure - outside pressure", (ARITHMETIC,)),
    make_sum("fuel", blend_density_kg_l, "Density of petrol with ethanol", (ETHANOL, PETROL_DENSITY), "kg/L",
             _BLEND, (ARITHMETIC,), 0.01),
    make_sum("fuel", blend_air_fuel_ratio, "Stoichiometric ratio of petrol with ethanol",
             (ETHANOL._replace(falls=True), PETROL_DENSITY), "kg/kg",
             f"m × 9.0 + (1 - m) × 14.7; m = x × 0.789 ÷ blend density; blend density = {_BLEND}", (AFDC, ARITHMETIC), 0.02),
    make_sum("fuel", blend_flow_factor, "Extra flow that ethanol asks for", (ETHANOL, PETROL_DENSITY._replace(falls=None)),
             "times petrol", f"(14.7 ÷ ratio of the blend) × (petrol density ÷ blend density); ratio of the blend = m × 9.0 + (1 - m) × 14.7; "
             f"m = x × 0.789 ÷ blend density; blend density = {_BLEND}", (AFDC, ARITHMETIC), 0.03, 3,
             notes=("By volume, at the same air. Injectors, pump and lines all need this reserve.",)),
)
