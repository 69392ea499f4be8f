"""Where the combination check asks for a number that a sum gives or takes: by the facts' own sums, and by what a result means."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from build_tools.pages.places import attribute_of
from build_tools.pages.site import Record, Site

# sum -> attributes of the facts that ask for the very number it gives; one that a book does not have is passed over
RESULT_OF: Mapping[str, tuple[str, ...]] = {
    "metric_tyre_diameter_mm": ("host_vehicle.tyre_diameter",),
    "pulses_per_km_shaft": ("calibration.speed_number", "speedometer.available"),
    "pulses_per_km_wheel": ("calibration.speed_number", "speedometer.available"),
    "pulses_per_km_before_transfer": ("calibration.speed_number", "speedometer.available"),
    "pulses_per_km_cable": ("calibration.speed_number", "speedometer.available"),
    "pulses_per_km_measured": ("calibration.speed_number", "speed_source.stated_pulses", "speedometer.available"),
    "standard_pressure_kpa": ("manifold_pressure_sensor.outside_pressure",),
    "engine_airflow_g_s": ("intake_tract.peak_flow",),
    "airflow_for_power_g_s": ("intake_tract.peak_flow",),
    "airflow_sensor_hz": ("airflow_sensor.peak_frequency",),
    "injector_flow_at_pressure_cc_min": ("injector.flow",),
    "blend_density_kg_l": ("fuel.density",),
    "pump_current_a": ("pump_feed.current", "pump_relay.draw"),
    "awg_section_mm2": ("power_feed.section", "charge_cable.section", "battery.cable_section"),
    "load_current_a": ("electrical_load.continuous",),
    "fan_current_a": ("fan_feed.current", "cooling_fan.current"),
    "tachometer_pulses_per_rev": ("tachometer.pulses",),
}


class Asked(NamedTuple):
    """A number that the check asks for: the part's slot and kind, the attribute, and what the check takes for it."""

    slot: str
    kind: str
    attribute: str
    title: str
    low: float | None
    high: float | None
    whole: bool


def asked(site: Site, slot: str, attribute: str) -> Asked | None:
    """Return what the check asks of a slot; None when the book has no such slot, or no such number."""
    kind = site.book["slots"].get(slot, {}).get("kind")
    entry = attribute_of(site.book, kind, attribute) if kind else None
    if kind is None or entry is None or entry["type"] != "number":
        return None
    return Asked(slot, kind, attribute, entry["title"], entry["low"], entry["high"], bool(entry["whole"]))


def of_result(site: Site, name: str) -> list[Asked]:
    """Return where the check asks for the number that a sum gives."""
    found = (asked(site, *variable.split(".")) for variable in RESULT_OF.get(name, ()))
    return [one for one in found if one is not None]


def records_of(site: Site, name: str) -> list[Record]:
    """Return the sums of the facts that are worked out by this one, in order of id."""
    return [site.book["sums"][record] for record in sorted(site.book["sums"]) if site.book["sums"][record]["function"] == name]


def kind_of_input(site: Site, record: Record, slot: str) -> str | None:
    """Return the kind of a slot, or of a name that a rule with this sum gives to each slot of a kind; None when nothing says."""
    if slot in site.book["slots"]:
        return site.book["slots"][slot]["kind"]
    rules = [site.book["rules"][name] for name in site.refs.rules_of_sum.get(record["id"], ())]
    return next((rule["each"][slot] for rule in rules if slot in (rule["each"] or {})), None)


def fillings(site: Site, record: Record) -> Iterator[tuple[str, dict[str, Asked]]]:
    """Yield (title, what each input is asked as) for each way to put the inputs of a record into the check.

    There is one way for a record about named slots, and one a slot where the rules bind it to each slot of a kind.
    """
    names = {variable.partition(".")[0] for variable in record["inputs"].values()}
    bound = sorted(name for name in names if name not in site.book["slots"])
    kind = kind_of_input(site, record, bound[0]) if len(bound) == 1 else None
    slots = site.book["kinds"][kind]["slots"] if kind else []
    for slot in slots if bound else [""]:
        found: dict[str, Asked] = {}
        for param, variable in sorted(record["inputs"].items()):
            head, _, attribute = variable.partition(".")
            one = asked(site, slot if head in bound else head, attribute)
            if one is not None:
                found[param] = one
        if len(found) == len(record["inputs"]):
            yield (site.book["slots"][slot]["title"] if slot else ""), found


def for_script(ways: Mapping[str, Asked]) -> dict[str, dict[str, Any]]:
    """Return what a page's script needs to fill the check: by input, or by `result`, the attribute and what it takes."""
    return {name: {"slot": one.slot, "attribute": one.attribute, "low": one.low, "high": one.high, "whole": one.whole}
            for name, one in sorted(ways.items())}
