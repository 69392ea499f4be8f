"""Why: for a case of a rule, what it looked at, what that was, and where it came from."""
from __future__ import annotations

from typing import Any, Sequence

from .build import Build
from .findings import Reason
from .names import NA
from .outcome import Prepared, looked_at
from .question import Question
from . import wording

WEAKEST = ("invented", "from-memory", "common-practice", "measured", "published")   # weakest first


def grounds(q: Question, build: Build, dom: Sequence[int], r: Reason, p: Prepared, case: int) -> list[dict[str, Any]]:
    """The facts that a case rests on, in the order its tests read them; for `otherwise`, all that the rule reads."""
    boxes = [b for b in r.boxes if b.cases[r.position] == case]
    rows = p.cases[case] if any(p.cases[case]) else [row for rows in p.cases for row in rows]
    seen: dict[int, int] = {}
    for test in (t for row in rows for t in row):
        for v in looked_at(test):
            mask = 0
            for b in boxes:
                mask |= b.masks.get(v, dom[v]) & dom[v]
            if mask and v not in seen and not q.space.names[v].endswith(".fitted"):
                seen[v] = mask
    out = []
    for v, mask in _that_apply(q, seen, dom).items():
        origin, source, checked = _origin(q, build, v, dom)
        out.append({"about": q.space.names[v], "text": wording.sentence(wording.mask_text(q.book, q.space, v, mask)),
                    "from": origin, "source": source, "checked": checked})
    return out


def _that_apply(q: Question, seen: dict[int, int], dom: Sequence[int]) -> dict[int, int]:
    """The facts with each that does not apply replaced by what makes it so: there is no such part, or its kind."""
    space, out = q.space, {}
    for v, mask in seen.items():
        while space.values[v][-1] == NA and mask == 1 << (len(space.values[v]) - 1):
            slot, _, attr = space.names[v].partition(".")
            fitted = space.index.get(f"{slot}.fitted")
            if fitted is None or " " in space.names[v]:
                break
            kind = q.book.kinds[q.book.slot_kind[slot]]
            needs = next((a.applies_when for a in kind.attributes if a.id == attr), ())
            parents = [(space.index[f"{slot}.{p}"], allowed) for p, allowed in needs]
            unmet = [p for p, allowed in parents
                     if not any(x in allowed and dom[p] >> i & 1 for i, x in enumerate(space.values[p]))]
            v = fitted if dom[fitted] == 2 or not unmet else unmet[0]
            mask = dom[v]
            if v == fitted:
                break
        out.setdefault(v, mask)
    return out


def _origin(q: Question, build: Build, v: int, dom: Sequence[int]) -> tuple[str, str | None, str | None]:
    """told, assumed, listed (with source and date), chosen, worked-out, or unknown."""
    space, name = q.space, q.space.names[v]
    if v in space.feeds and not name.startswith("listed_together"):
        return "worked-out", None, None
    kind, _, rest = name.partition(" ")
    if rest:
        if kind == "listed_together":
            return "listed", None, None
        for r in build.relations:
            if r.kind == kind and set(rest.replace(" + ", " ").split()) <= set(r.of) and r.value != "not_sure":
                return ("assumed" if r.assumed else "told"), None, None
        return ("told" if dom[v].bit_count() == 1 else "unknown"), None, None
    slot, _, attr = name.partition(".")
    entry = build.slots.get(slot)
    told = entry.told.get(attr) if entry is not None else None
    if told is not None and (told.values is not None or told.span is not None):
        return ("assumed" if told.assumed else "told"), None, None
    live = [c for i, c in enumerate(space.candidates[slot]) if dom[space.part[slot]] >> i & 1]
    if len(live) == 1 and live[0].family:
        claim = q.book.data["families"][live[0].family]["attributes"].get(attr)
        if claim is not None:
            return "listed", claim.get("source"), claim.get("checked")
    if v in space.ours or space.part[slot] in space.ours:
        return "chosen", None, None
    return ("told" if dom[v].bit_count() == 1 and entry is not None else "unknown"), None, None


def weakest(book_sources: dict[str, Any], ids: Sequence[str]) -> dict[str, str] | None:
    """The weakest of some sources, by kind then id; None when none is known."""
    known = [book_sources[i.split("#")[0]] for i in ids if i and i.split("#")[0] in book_sources]
    least = min(known, key=lambda r: (WEAKEST.index(r["kind"]), r["id"]), default=None)
    return None if least is None else {"source": least["id"], "kind": least["kind"]}
