"""A sum names a calculation that exists and gives it exactly the inputs it takes, in its units."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.index import Index
from build_tools.problems import Problem, listed, near_match
from build_tools.records import Record


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each sum that could not be worked out."""
    records = index.of("sum").values()
    if not records:
        return
    try:
        from wizard.sums.forms import REGISTRY
        from wizard.sums.forms.units import OTHER, SPELLINGS
    except ImportError as error:
        yield next(iter(records)).problem(
            ("function",), "engine-missing", f"The calculations cannot be loaded: {error}."
        )
        return
    physical = {*OTHER, *SPELLINGS, *(unit.name for unit in (*OTHER.values(), *SPELLINGS.values()))}
    for record in records:
        name = record.data.get("function", "")
        if name and name not in REGISTRY:
            yield record.problem(
                ("function",),
                "sum-function",
                f"There is no calculation '{name}'.",
                "Run donorbook sum to list them.",
                near_match(name, REGISTRY),
            )
            continue
        wanted = [param.name for param in REGISTRY[name].params] if name else []
        given = record.data.get("inputs", {})
        for param in sorted(set(given) - set(wanted)) if name else ():
            yield record.problem(
                ("inputs", param),
                "sum-function",
                f"The calculation '{name}' takes no '{param}'.",
                listed(wanted, "It takes:"),
                near_match(param, wanted),
            )
        for param in sorted(set(wanted) - set(given)):
            yield record.problem(
                ("inputs",),
                "sum-function",
                f"The calculation '{name}' is not given its '{param}'.",
                listed(wanted, "It takes:"),
            )
        if name:
            units = {param.name: param.unit for param in REGISTRY[name].params}
            yield from _units(index, record, units, REGISTRY[name].unit, physical)


def _units(index: Index, record: Record, units: dict[str, str], result: str, physical: set[str]) -> Iterator[Problem]:
    """Numbers reach a calculation as they were told, so the attribute must be told in the unit it takes."""
    if record.data.get("unit", result) != result:
        yield record.problem(
            ("unit",),
            "sum-unit",
            f"The sum is shown in {record.data['unit']}, and the calculation gives {result}.",
            f"Write {result}.",
        )
    names = {
        **{name: kind for rule in index.of("rule").values() for name, kind in rule.data.get("each", {}).items()},
        **index.slots,
    }
    for param, source in record.data.get("inputs", {}).items():
        slot, _, attribute = source.partition(".")
        told = index.attributes(names.get(slot, "")).get(attribute, {}).get("number", {}).get("unit")
        wanted = units.get(param)
        if told and wanted and told != wanted and {told, wanted} & physical:
            yield record.problem(
                ("inputs", param),
                "sum-unit",
                f"The calculation takes '{param}' in {wanted}, and '{source}' is told in {told}.",
                "Tell the attribute in that unit; nothing is converted on the way.",
            )
