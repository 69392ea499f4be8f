"""Every drawing that facts ask for exists and can be made there, and every face of a plug is of a plug that is drawn."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.drawings.registry import FACES, NAMES, TO_SCALE
from build_tools.index import Index, as_list, attribute_type
from build_tools.problems import Problem, listed, near_match
from build_tools.records import Record


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each drawing that could not be made and each face that nobody would see."""
    for record in index.facts.records:
        if record.type in ("find_out", "rule") and "drawing" in record.data:
            yield from _named(record, ("drawing",), record.data["drawing"], None)
        if record.type == "kind":
            for name, data in record.data.get("attributes", {}).items():
                if "drawing" in data:
                    yield from _named(record, ("attributes", name, "drawing"), data["drawing"], data)
    yield from _faces(index)


def _named(record: Record, path: tuple[Any, ...], told: Any, attribute: dict[str, Any] | None) -> Iterator[Problem]:
    for name in as_list(told):
        if name not in NAMES:
            yield record.problem(
                path, "unknown-drawing", f"There is no drawing '{name}'.", listed(NAMES, "Drawings:"), near_match(name, NAMES)
            )
        elif name in FACES and (attribute is None or attribute_type(attribute) != "identity"):
            yield record.problem(
                path,
                "unknown-drawing",
                f"'{name}' is drawn from the faces of an identity's values.",
                "Only an attribute with identity has it.",
            )
        elif name in TO_SCALE and (attribute is None or attribute.get("number", {}).get("unit") != "mm"):
            yield record.problem(
                path,
                "unknown-drawing",
                f"'{name}' is drawn from a number in mm.",
                "Only an attribute with a number in mm has it.",
            )


def _faces(index: Index) -> Iterator[Problem]:
    drawn = {
        value
        for kind in index.kinds.values()
        for name, data in kind.data.get("attributes", {}).items()
        if set(as_list(data.get("drawing", []))) & set(FACES)
        for value in index.values(kind.id, name)
    }
    for name, record in sorted(index.of("face").items()):
        if name not in drawn:
            yield record.problem(
                ("face",),
                "unknown-drawing",
                f"No attribute that draws plug faces has the value '{name}'.",
                listed(drawn, "Values:"),
                near_match(name, drawn),
            )
