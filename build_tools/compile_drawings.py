"""What only the pages show: which record asks for which drawing, and the faces of plugs."""

from __future__ import annotations

from typing import Any

from build_tools.index import Index, as_list
from build_tools.records import Record


def undrawn(index: Index) -> dict[str, str]:
    """Return, for each rule that says why it needs no drawing, the word for it."""
    return {name: one.data["undrawn"] for name, one in sorted(index.of("rule").items()) if "undrawn" in one.data}


def drawings(index: Index) -> dict[str, dict[str, list[str]]]:
    """Return the names of the drawings that ways to find out, rules and attributes ask for, by id; attributes as `kind.attribute`."""
    of_attributes = {
        f"{kind.id}.{name}": as_list(data["drawing"])
        for kind in sorted(index.kinds.values(), key=lambda record: record.id)
        for name, data in kind.data["attributes"].items()
        if "drawing" in data
    }
    return {"attributes": of_attributes, "find_out": _of(index, "find_out"), "rules": _of(index, "rule")}


def _of(index: Index, record_type: str) -> dict[str, list[str]]:
    records = sorted(index.of(record_type).items())
    return {name: as_list(record.data["drawing"]) for name, record in records if "drawing" in record.data}


def face(index: Index, record: Record) -> dict[str, Any]:
    """Return the face of a plug, or of all plugs of one end, with the cavities of each row as numbers."""
    return {
        "title": record.data["title"],
        "plugs": [
            {
                "name": name,
                "outline": plug["outline"],
                "rows": [int(row) for row in plug["cavities"].split(" + ")],
                "latch": plug["latch"],
                "ribs": plug.get("ribs", []),
            }
            for name, plug in record.data["plugs"].items()
        ],
    }
