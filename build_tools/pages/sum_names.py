"""What each name in a formula stands for: an input of the sum with its unit, or a sentence about what is looked up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from build_tools.pages.formula import Node, lines
from wizard.sums.copper import CLASS_5, LISTED_MM2
from wizard.sums.forms import Param, Sum
from wizard.sums.wire import FUSES_A

# name in a formula -> inputs that it can be short for; the one that the sum takes is meant
INPUTS: Mapping[str, tuple[str, ...]] = {
    "airflow": ("flow_g_s",), "allowed": ("allowed_v",), "allowed loss": ("drop_v",), "amplitude": ("amplitude_v",),
    "aspect": ("aspect_percent",), "available": ("available_per_km",), "body": ("body_mohm",), "case path": ("case_mohm",),
    "coil": ("coil_ohm",), "crank pulley in mm": ("crank_pulley_mm",), "current": ("current_a", "load_current_a"),
    "density": ("density_kg_m3",), "density in kg/L": ("density_kg_l",), "diameter in mm": ("diameter_mm",),
    "distance in m": ("distance_m",), "edges per turn": ("edges_per_turn",), "efficiency": ("volumetric_efficiency_percent", "efficiency_percent"),
    "engine rpm": ("engine_rpm",), "expected": ("pulses_expected",), "factor": ("inrush_factor",), "feed": ("feed_mohm",),
    "film": ("film_w_m2k",), "flow": ("flow_l_h", "injector_cc_min"), "frequency": ("frequency_hz",),
    "fuse": ("fuse_a",), "g/kWh": ("bsfc_g_kwh",), "gear": ("gear_ratio",), "h": ("altitude_m",), "heater": ("heater_ohm",), "hold": ("hold_a",),
    "input": ("input_ohm",), "kPa": ("pressure_kpa",), "kW": ("power_kw", "heat_kw"), "km/h": ("speed_km_h",), "length": ("length_m", "cable_m"),
    "lift": ("return_lift_v",), "limit": ("sensor_limit_g_s", "frequency_limit_hz"), "litres per hour": ("flow_l_h",), "load": ("load_a",),
    "loss": ("drop_kpa",), "lower": ("lower_ohm",), "milliamperes": ("sensor_current_ma", "excitation_ma"), "milliohms": ("strap_mohm", "return_mohm"),
    "n": ("awg",), "number": ("heaters", "fans", "terminators"), "ohms": ("resistor_ohm",), "ohms of one": ("terminator_ohm",),
    "other way": ("stray_mohm",), "output": ("output_a",), "outside pressure": ("ambient_kpa",), "peak": ("peak_a", "peak_g_s", "peak_hz"),
    "peak time": ("peak_ms",), "pressure": ("pressure_kpa", "ambient_kpa"), "programmed": ("programmed_per_km",), "pulses per km": ("pulses_per_km",),
    "pulses counted per km": ("pulses_per_km",), "rail gauge": ("rail_kpa",), "rated flow": ("rated_cc_min",), "rated pressure": ("rated_kpa",), "reading": ("reading_ohm",),
    "reference": ("reference_v",), "return": ("return_mohm",), "rim in inches": ("rim_in",), "rpm": ("engine_rpm",), "running": ("running_a",),
    "section": ("section_mm2",), "sent": ("sent_per_km", "pulses_sent"), "series": ("series_ohm",), "setting": ("setting_kpa",),
    "shown": ("shown_km_h",), "speed measured at": ("at_speed_km_h",), "strap": ("strap_mohm",), "t": ("temp_c",),
    "teeth": ("teeth",), "teeth of the full circle": ("pitch_teeth",), "threshold": ("threshold_v",), "throttle": ("throttle_g_s",),
    "time open": ("open_ms",), "true": ("true_km_h",), "turns per km": ("wheel_turns_per_km",), "upper": ("upper_ohm",), "volts": ("voltage_v",),
    "wanted": ("wanted_per_km",), "watts": ("load_w", "fan_w"), "wire": ("wire_rating_a",), "°C": ("temp_c", "intake_temp_c"),
}
_OHMS = "the most that the standard allows fine-stranded wire of this section at this temperature, in Ω/km"
_COLUMNS = (("frequency", "Hz"), ("airflow", "g/s"))
_TABLE = " ".join(f"{section:g}: {ohms:g}," for section, ohms in CLASS_5).rstrip(",")
# names that stand for no input
SAID: Mapping[str, str] = {
    "ohms per km": _OHMS,
    "the section whose ohms per km are": f"ohms per km are {_OHMS}",
    "class 5 table at 20 °C": (f"mm² and the most Ω/km: {_TABLE}. Between two sizes, go the same share of the way from 1 ÷ Ω/km of the one "
                               "to that of the other, and turn the result over; beyond the ends, Ω/km × mm² stays as at the end"),
    "the smallest section": "that at which the loss is just the allowed one",
    "the next listed size up from": f"listed are {', '.join(f'{size:g}' for size in LISTED_MM2)} mm²",
    "the next rating up from": f"ratings are {', '.join(f'{fuse:g}' for fuse in FUSES_A)} A",
    "x": "ethanol in the fuel, by volume, as a part of one: 85 % is 0.85",
    "m": "the ethanol's part of the fuel by mass",
    "not under 0": "a result below zero counts as 0: no resistor is needed",
    "2 mm": "a millimetre to spare on either side",
    "the larger of": "whichever of the two is larger counts",
    "frequency counted": "the highest frequency the controller counts, or the table's last where that is lower, in Hz",
    "H": "the altitude as the standard counts it, in m, a little less than the true one",
    "g": "how well the way to ground conducts, in 1/Ω",
    "f": "the friction factor, without a unit",
    "Re": "the Reynolds number, without a unit: how likely the flow is to swirl",
    "r": "the pressure behind the throttle over that in front of it; where that is below 0.528, take 0.528: the flow is choked",
    "K": "the temperature of the air above absolute zero",
    "area": "that of the bore, in mm²",
    "velocity": "that of the fuel in the line, in m/s",
    "rest": "the time at the hold current, in ms; 0 where the pulse is shorter than the peak",
    "density": "how heavy the air is, in kg/m³",
    **{f"{what} below": f"that of the table's last point at or under what is asked, in {unit}" for what, unit in _COLUMNS},
    **{f"{what} above": f"that of the table's next point, in {unit}" for what, unit in _COLUMNS},
}
# names that another sum works out
WORKED_OUT: Mapping[str, str] = {
    "ohms per km": "stranded_resistance_ohm_km", "the section whose ohms per km are": "stranded_resistance_ohm_km",
    "the smallest section": "smallest_section_mm2",
}
CONSTANTS: Mapping[str, str] = {
    "3.05": "in place of π, because a loaded tyre rolls on a smaller circle",
    "287.05": "the gas constant of dry air, in J/(kg K)",
    "0.789": "the density of ethanol, in kg/L",
    "14.7": "the air-fuel ratio of petrol, by mass",
    "9.0": "the air-fuel ratio of ethanol, by mass",
    "0.00393": "what copper's resistance grows by for each °C",
    "58": "the conductivity of copper at 20 °C, in m/(Ω mm²)",
    "0.5787": "(2 ÷ 2.4)³, for flow at the speed of sound",
    "0.75": "a fuse carries three quarters of its rating for good",
    "25.4": "millimetres in an inch",
}


def explained(one: Sum) -> list[tuple[str, str]]:
    """Return each name and odd constant of a formula with what it stands for, in the order in which they come.

    Raises KeyError for a name that stands for no input and is not explained.
    """
    found: dict[str, str] = {}
    rows = lines(one.formula)
    given = {row.name for row in rows}
    for row in rows:
        for kind, name in _leaves(row.tree):
            if kind == "number" and name in CONSTANTS and not (name == "58" and one.subject != "wire"):
                found[name] = CONSTANTS[name]
            elif kind == "words" and name in given:
                if name in SAID:
                    found[name] = SAID[name]
            elif kind == "words" and name not in ("π", "and"):
                found[name] = stands_for(one, name)
    return [(name, text) for name, text in found.items() if name.lower() != text.lower()]


def stands_for(one: Sum, name: str) -> str:
    """Return what a name in the formula of a sum stands for; raises KeyError when nothing says."""
    param = input_of(one, name)
    return _input(param) if param else SAID[name]


def input_of(one: Sum, name: str) -> Param | None:
    """Return the input of a sum that a name in its formula is short for; None when it is none of them."""
    params = [p for p in one.params if p.name in INPUTS.get(name, ())]
    if len(params) != 1:
        params = [p for p in one.params if p.name.startswith(name.replace(" ", "_").replace("-", "_"))]
    if len(params) != 1:
        words = {word.rstrip("s") for word in name.lower().replace("-", " ").split()}
        params = [p for p in one.params if words <= {word.rstrip("s") for word in f"{p.title} {p.name.replace('_', ' ')}".lower().replace("-", " ").split()}]
    return params[0] if len(params) == 1 else None


def _input(param: Param) -> str:
    if param.unit in ("to 1", "times", "turns", "pulses") or (param.whole and param.unit not in ("mm", "%")):
        return param.title
    return f"{param.title}, in {'inches' if param.unit == 'in' else param.unit}"


def _leaves(tree: Node) -> Iterator[tuple[str, str]]:
    kind, body = tree[0], tree[1]
    if kind in ("number", "words"):
        yield kind, body.strip(" ,")
    elif kind in ("chain", "total"):
        for _, part in body:
            yield from _leaves(part)
    elif kind == "row":
        for part in body:
            yield from _leaves(part)
    else:
        yield from _leaves(body)
        if kind == "power":
            yield from _leaves(tree[2])
