"""A small invented book with every form an address must carry, and names that collide with the address's own words."""

from __future__ import annotations

import json
from typing import Any

from wizard.engine import Book, load

Json = dict[str, Any]


def attribute(name: str, kind: str = "values", values: tuple[str, ...] = (), **more: Any) -> Json:
    """Return an attribute in book form; numbers run from -1500 to 9000."""
    number = {"unit": "mm", "low": -1500, "high": 9000, "band": 0.01} if kind == "number" else {}
    plain = {"unit": None, "low": None, "high": None, "band": 0, "whole": False, "reads": None, "applies_when": {},
             "find_out": None, "told_only": False}
    return {**plain, **number, "id": name, "title": name, "ask": f"What is {name}?", "type": kind,
            "values": [[value, value] for value in values], **more}


KINDS: dict[str, tuple[list[Json], tuple[str, ...]]] = {
    "lamp": ([attribute("return_path", values=("own_wire", "housing")), attribute("draw", "number"),
              attribute("plug", "identity", ("style_a", "style_b"))], ("lamp_left", "lamp_right", "asks")),
    "wheel": ([attribute("across", "number", reads="tyre_size"), attribute("family", values=("keep", "open"))], ("wheel",)),
    "panel": ([attribute("plug", "identity", ("style_a", "style_b"))], ("panel", "whole_swap")),
}
FAMILIES = {"lamp_a": "lamp", "lamp_b": "lamp", "keep": "lamp", "open": "lamp", "fitted": "lamp", "wheel_a": "wheel",
            "panel_a": "panel", "panel_b": "panel"}


def small_book() -> Book:
    """Return the book, loaded."""
    data: Json = {name: {} for name in ("sets", "offers", "stops", "additions", "sums", "sources", "find_out", "codes",
                                        "terms", "builds")}
    data |= {"schema": 1, "edition": "2026-11-25.00000000", "layers": []}
    data["kinds"] = {kind: {"id": kind, "title": kind, "attributes": attributes, "never": [], "slots": list(slots),
                            "open_from": "listed", "changeable": "whole"} for kind, (attributes, slots) in KINDS.items()}
    data["slots"] = {slot: {"id": slot, "kind": kind, "title": slot, "if_unsaid": "not_sure"}
                     for kind, (_, slots) in KINDS.items() for slot in slots}
    data["slot_order"] = list(data["slots"])
    data["families"] = {name: {"id": name, "kind": kind, "title": name, "attributes": {}} for name, kind in FAMILIES.items()}
    case = {"case": "otherwise", "verdict": "cannot-tell", "when": [[]], "additions": [], "because": "It is so."}
    data["rules"] = {name: {"id": name, "title": name, "subject": "light", "each": None, "about": ["panel"], "partners": [],
                            "helpers": [], "cases": [case]} for name in ("lamp-load", "lamp-plug")}
    data["rule_order"] = sorted(data["rules"])
    data["subjects"] = {name: {"id": name, "title": name} for name in ("light", "rolling")}
    data["subject_order"] = ["light", "rolling"]
    return load(json.dumps(data))
