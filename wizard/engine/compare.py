"""What if: what differs between two answers, in verdict, reasons, additions, questions and sums."""
from __future__ import annotations

import json
from typing import Any


def compare(before_json: str, after_json: str) -> str:
    """Compare two answers of `answer`; JSON in and out. Raises `ValueError` when one is not an answer."""
    before, after = json.loads(before_json), json.loads(after_json)
    for a in (before, after):
        if not isinstance(a, dict) or "verdict" not in a or "reasons" not in a:
            raise ValueError("Both must be answers.")
    out = {
        "schema": 1,
        "verdict": {"before": before["verdict"], "after": after["verdict"], "headline": after["headline"]},
        "same": before == after,
        "subjects": _changed(_by(before["subjects"], ("subject",)), _by(after["subjects"], ("subject",)), "title", "verdict"),
        "reasons": _reasons(before, after),
        "additions": _came_and_went(_additions(before), _additions(after)),
        "questions": _came_and_went({q["ask"]: q["text"] for q in before["questions"]},
                                    {q["ask"]: q["text"] for q in after["questions"]}),
        "stops": _came_and_went(_stops(before), _stops(after)),
        "sums": _changed(_by(before["sums"], ("sum",)), _by(after["sums"], ("sum",)), "title", "shown"),
    }
    return json.dumps(out, sort_keys=True, ensure_ascii=False, separators=(",", ":"))


def _by(items: list[dict[str, Any]], keys: tuple[str, ...]) -> dict[tuple, dict[str, Any]]:
    return {tuple(str(item[k]) for k in keys): item for item in items}


def _changed(before: dict, after: dict, title: str, value: str) -> list[dict[str, Any]]:
    """Entries whose value is not the same, or that only one of the two has."""
    out = []
    for key in sorted(before.keys() | after.keys()):
        a, b = before.get(key), after.get(key)
        if (a or {}).get(value) != (b or {}).get(value):
            out.append({"id": key[0], "title": (b or a)[title], "before": (a or {}).get(value), "after": (b or {}).get(value)})
    return out


def _reasons(before: dict[str, Any], after: dict[str, Any]) -> list[dict[str, Any]]:
    a, b = _by(before["reasons"], ("rule", "slot")), _by(after["reasons"], ("rule", "slot"))
    out = []
    for key in sorted(a.keys() | b.keys()):
        x, y = a.get(key), b.get(key)
        was = [c["because"] for c in x["cases"]] if x else None
        now = [c["because"] for c in y["cases"]] if y else None
        brief = x is not None and y is not None and not (was and now)       # of one only the outcome is told
        said = (None, None) if brief else (was, now)
        if said[0] != said[1] or _outcome(x) != _outcome(y):
            out.append({"rule": key[0], "slot": (y or x)["slot"], "title": (y or x)["title"],
                        "before": (x or {}).get("verdict"), "after": (y or {}).get("verdict"), "was": was, "now": now})
    return out


def _outcome(reason: dict[str, Any] | None) -> tuple | None:
    return None if reason is None else (reason["verdict"], reason["settled"])


def _additions(answer: dict[str, Any]) -> dict[str, str]:
    a = answer["additions"]
    found = [*a["certain"], *(x for ways in a["one_of"] for way in ways for x in way),
             *(x for branch in a["only_if"] for x in branch["then"]), *a["more"]]
    return {f"{x['addition']}@{x['slot'] or ''}": x["title"] for x in found}


def _stops(answer: dict[str, Any]) -> dict[str, str]:
    return {s["stop"]: s["title"] for group in answer["stops"].values() for s in group}


def _came_and_went(before: dict[str, str], after: dict[str, str]) -> dict[str, list[str]]:
    """The titles that only the later has, and those that only the earlier had."""
    return {"new": [after[k] for k in sorted(after.keys() - before.keys())],
            "gone": [before[k] for k in sorted(before.keys() - after.keys())]}
