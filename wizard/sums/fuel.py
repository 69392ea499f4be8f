"""Fuel at the injector: flow for a power, duty, the square-root law, pressure across it, and ethanol."""
from __future__ import annotations

import math

from .air import AMBIENT, BSFC, POWER
from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum
from .units import volume_flow_from_mass_cc_min

PETROL_AFR, ETHANOL_AFR = 14.7, 9.0
PETROL_KG_L, ETHANOL_KG_L = 0.745, 0.789


def injector_flow_needed_cc_min(power_kw: float, bsfc_g_kwh: float, injectors: float, duty_percent: float,
                                density_kg_l: float) -> float:
    """Return the flow in cc/min that each injector must have at the pressure it sees.

    Formula: kW × g/kWh / 60 / injectors / (duty / 100) / density. Range: as the params; no errors inside it.
    Source: arithmetic; consumption and duty are common practice.
    """
    grams_s = power_kw * bsfc_g_kwh / 3600.0 / injectors / (duty_percent / 100.0)
    return volume_flow_from_mass_cc_min(grams_s, density_kg_l)


def injector_duty_percent(power_kw: float, bsfc_g_kwh: float, injectors: float, injector_cc_min: float,
                          density_kg_l: float) -> float:
    """Return the share of time in per cent that the injectors must be open at a power.

    Formula: 100 × kW × g/kWh / 60 / injectors / density / injector flow. Range: as the params; no errors inside it.
    Source: arithmetic; over 100 the fuel does not exist.
    """
    return 100.0 * injector_flow_needed_cc_min(power_kw, bsfc_g_kwh, injectors, 100.0, density_kg_l) / injector_cc_min


def power_supported_kw(injector_cc_min: float, injectors: float, duty_percent: float, bsfc_g_kwh: float,
                       density_kg_l: float) -> float:
    """Return the crank power in kW that the injectors can feed at a duty.

    Formula: 60 × flow × injectors × duty / 100 × density / (g/kWh). Range: as the params; no errors inside it.
    Source: arithmetic; consumption and duty are common practice.
    """
    return 60.0 * injector_cc_min * injectors * duty_percent / 100.0 * density_kg_l / bsfc_g_kwh


def injector_flow_at_pressure_cc_min(rated_cc_min: float, rated_kpa: float, pressure_kpa: float) -> float:
    """Return the flow at another pressure across the injector.

    Formula: rated flow × square root of (pressure / rated pressure). Range: as the params; no errors inside it.
    Source: the orifice equation of ISO 5167-2. It holds for the open injector, not for its opening time.
    """
    return rated_cc_min * math.sqrt(pressure_kpa / rated_kpa)


def injector_pressure_fixed_kpa(rail_kpa: float, ambient_kpa: float, manifold_kpa: float) -> float:
    """Return the pressure across an injector in kPa with a fixed (not referenced) regulator.

    Formula: rail gauge pressure + outside pressure - manifold absolute pressure. Range: as the params; no errors
    inside it. Source: arithmetic. With a referenced regulator it is the regulator's setting at every load.
    """
    return rail_kpa + ambient_kpa - manifold_kpa


def rail_pressure_referenced_kpa(setting_kpa: float, ambient_kpa: float, manifold_kpa: float) -> float:
    """Return what a gauge at the rail shows in kPa when the regulator is referenced to the manifold.

    Formula: setting + manifold absolute pressure - outside pressure. Range: as the params; no errors inside it.
    Source: arithmetic; the pump must hold this at full boost.
    """
    return setting_kpa + manifold_kpa - ambient_kpa


def blend_density_kg_l(ethanol_percent: float, petrol_kg_l: float) -> float:
    """Return the density in kg/L of petrol with a volume share of ethanol, shrinkage on mixing neglected.

    Formula: (1 - x) × petrol + x × 0.789. Range: as the params; no errors inside it. Source: arithmetic.
    """
    share = ethanol_percent / 100.0
    return (1.0 - share) * petrol_kg_l + share * ETHANOL_KG_L


def blend_air_fuel_ratio(ethanol_percent: float, petrol_kg_l: float) -> float:
    """Return the stoichiometric air-fuel ratio by mass of petrol with a volume share of ethanol.

    Formula: mass-weighted mean of 14.7 and 9.0; volume shares go through density to mass shares.
    Range: as the params; no errors inside it. Source: published fuel table (14.7 and 9), arithmetic.
    """
    share = ethanol_percent / 100.0
    ethanol_mass = share * ETHANOL_KG_L / blend_density_kg_l(ethanol_percent, petrol_kg_l)
    return ethanol_mass * ETHANOL_AFR + (1.0 - ethanol_mass) * PETROL_AFR


def blend_flow_factor(ethanol_percent: float, petrol_kg_l: float) -> float:
    """Return how many times the volume of petrol is needed for the same air at stoichiometric mixture.

    Formula: (14.7 / ratio of the blend) × (petrol density / blend density). Range: as the params; no errors
    inside it. Source: arithmetic.
    """
    ratio = PETROL_AFR / blend_air_fuel_ratio(ethanol_percent, petrol_kg_l)
    return ratio * petrol_kg_l / blend_density_kg_l(ethanol_percent, petrol_kg_l)


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
             "(1 - x) × petrol density + x × 0.789", (ARITHMETIC,), 0.01),
    make_sum("fuel", blend_air_fuel_ratio, "Stoichiometric ratio of petrol with ethanol",
             (ETHANOL._replace(falls=True), PETROL_DENSITY), "kg/kg",
             "mass-weighted mean of 14.7 and 9.0; ethanol mass = x × 0.789 ÷ blend density", (AFDC, ARITHMETIC), 0.02),
    make_sum("fuel", blend_flow_factor, "Extra flow that ethanol asks for", (ETHANOL, PETROL_DENSITY._replace(falls=None)),
             "times petrol", "(14.7 ÷ ratio of the blend) × (petrol density ÷ blend density)", (AFDC, ARITHMETIC), 0.03, 3,
             notes=("By volume, at the same air. Injectors, pump and lines all need this reserve.",)),
)
