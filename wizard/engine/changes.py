"""When the answer is no: the smallest changes that would make it work, each tried by asking the engine again."""
from __future__ import annotations

from typing import Any, Callable, NamedTuple, Sequence

from .build import Build, Entry, Told
from .clash import guilty_rules
from .decision import viable_values
from .islands import islands
from .model import ADDITIONS, CANNOT_TELL, FAILS, WORKS, Book
from .question import Question
from .verdict import stand

TRIES = 60          # builds asked again in search of changes
WANTED = 3          # how many alternatives are enough
MOST_SLOTS = 3      # parts changed at once


class Change(NamedTuple):
    """Parts to change (slot -> family, or None for one made to order), ways to change, or additions to allow."""

    parts: tuple[tuple[str, str | None], ...]
    ways: tuple[tuple[str, str, str], ...]      # slot, attribute, value
    allow: bool
    verdict: int
    price: float
    build: Build
    judged: Any                                 # what asking that build came to


def replace_part(build: Build, slot: str, entry: Entry) -> Build:
    """The build with another part in a slot; what was said of the old part's origin no longer holds for the new."""
    relations = []
    for r in build.relations:
        if not any(n.split(".")[0] == slot for n in r.of):
            relations.append(r)
        elif r.kind == "came_together" and len(r.of) > 2 and r.value == "yes":
            relations.append(r._replace(of=tuple(n for n in r.of if n != slot)))
    right = tuple((rule, s) for rule, s in build.right if s != slot)
    return build._replace(slots=dict(sorted((build.slots | {slot: entry}).items())), relations=tuple(relations), right=right)


def find_changes(book: Book, build: Build, clash: Sequence[tuple], judge: Callable[[Build, bool], Any],
                 failed: Sequence[str]) -> list[Change]:
    """Changes that lead to works or works-with-additions, fewest parts first, then additions, then price.

    Where nothing does, because something else is not known yet, changes after which nothing fails any more and the
    subjects in `failed` work. `judge(build, brief)` asks a build again.
    """
    found = _search(book, build, clash, lambda b: _if(judge(b, True), ADDITIONS))
    if found:
        return found

    def clears(changed: Build) -> tuple[Any, bool]:
        got, good = _if(judge(changed, True), CANNOT_TELL)
        if good and failed:
            after = dict(judge(changed, False).subjects)
            good = all(after.get(s, WORKS) <= ADDITIONS for s in failed)
        return got, good

    return _search(book, build, clash, clears, True)


def _if(got: Any, worst: int) -> tuple[Any, bool]:
    return got, got.verdict is not None and got.verdict <= worst and not got.refused


Attempt = Callable[[Build], tuple[Any, bool]]      # what a build comes to, and whether that will do


def _search(book: Book, build: Build, clash: Sequence[tuple], judge: Attempt, each: bool = False) -> list[Change]:
    """Changes after which `judge` is content; with `each`, parts are tried even where leaving the slot open would not do.

    Every set of changed parts must touch the clash, or the clash would stand; where changing some parts leaves another
    clash, the next part comes from that one (the tree of hitting sets: Reiter, Artificial Intelligence 32, 1987, cited
    from memory). Never a part marked keep, never a fact of the host.
    """
    found: list[Change] = []
    budget = [TRIES]

    def attempt(changed: Build) -> tuple[Any, bool]:
        budget[0] -= 1
        return judge(changed) if budget[0] >= 0 else (None, False)

    if build.allowed_types is not None:
        freed = build._replace(allowed_types=None)
        got, good = attempt(freed)
        if good:
            found.append(Change((), (), True, got.verdict, 0.0, freed, got))
    slots = [s for s in book.slot_order if s in build.slots and _can_change(book, build, s)]
    hit = {k[1] for k in clash if k[0] in ("slot", "told")} | {
        n.split(".")[0] for k in clash if k[0] == "relation" for n in build.relations[k[1]].of}
    level = [(s,) for s in slots if s in hit or not clash]
    seen = set(level)
    for size in range(1, MOST_SLOTS + 1):
        after: list[tuple[str, ...]] = []
        for group in level:
            if any({s for s, _ in c.parts} < set(group) for c in found if c.parts):
                continue
            got, more = _alternatives(book, build, group, attempt, each)
            found += more
            if not more and got is not None and got.verdict == FAILS and size < MOST_SLOTS:
                next_slots = {s for r in guilty_rules(got.question) for s in book.layout.ready[r.key].slots}
                for s in slots:
                    bigger = tuple(sorted({*group, s}))
                    if s in next_slots and s not in group and bigger not in seen:
                        seen.add(bigger)
                        after.append(bigger)
        if size == 1:
            found += _ways(book, build, attempt)
        if len(found) >= WANTED or budget[0] <= 0:
            break
        level = after
    return sorted(found, key=lambda c: (len(c.parts) + len(c.ways), c.verdict, c.price, c.parts, c.ways))[:2 * WANTED]


def _can_change(book: Book, build: Build, slot: str) -> bool:
    entry = build.slots[slot]
    if entry.keep or entry.state in ("open", "made_to_order", "exists"):
        return False
    return book.kinds[book.slot_kind[slot]].changeable == "whole"


def _alternatives(book: Book, build: Build, group: Sequence[str], attempt: Attempt,
                  each: bool) -> tuple[Any, list[Change]]:
    """Ways to change all parts of a group: what leaving them open came to, then what the engine picks, then others."""
    asked = build
    for slot in group:
        asked = replace_part(asked, slot, Entry("open", (), {}, (), False))
    got, good = attempt(asked)
    if got is None or got.verdict in (None, FAILS) or got.refused or got.decision.strategies or not (good or each):
        return got, []
    out, taken = [], []
    if got.decision.choice is not None:
        picks = _picks(got, group)
        taken = [picks]
    elif len(group) == 1:
        listed = [c.family for c in got.question.space.candidates[group[0]] if c.kind == "family"]
        taken = [((group[0], f),) for f in listed if f != _present(build, group[0])][:2 * WANTED]
    if len(group) == 1 and taken and got.decision.choice is not None:
        slot = group[0]
        others = [f for f in _viable(got.question, slot) if f != picks[0][1]]
        taken += [((slot, f),) for f in others if f != _present(build, slot)][:2 * WANTED]
    for pick in taken:
        change = _try(book, build, pick, attempt)
        if change is not None:
            out.append(change)
        if len(out) >= WANTED:
            break
    return got, out


def _viable(q: Question, slot: str) -> list[str]:
    """The listed parts of an open slot that are good for every unknown, in order of price."""
    p = q.space.part[slot]
    home = next((i.question for i in islands(q) if p in i.vars), None)
    good = {} if home is None else viable_values(home, stand(home).choice)
    return [c.family for i, c in enumerate(q.space.candidates[slot])
            if c.kind == "family" and good.get((p, 1 << i), home is None)]


def _present(build: Build, slot: str) -> str | None:
    families = build.slots[slot].families
    return families[0] if len(families) == 1 else None


def _picks(got: Any, group: Sequence[str]) -> tuple[tuple[str, str | None], ...]:
    space, made = got.question.space, got.decision.choice.made
    out = []
    for slot in group:
        p = space.part[slot]
        candidate = space.candidates[slot][made[p].bit_length() - 1 if p in made else 0]
        out.append((slot, candidate.family))
    return tuple(out)


def _try(book: Book, build: Build, picks: Sequence[tuple[str, str | None]], attempt: Attempt) -> Change | None:
    changed, price = build, 0.0
    for slot, family in picks:
        entry = Entry("family", (family,), {}, (), False) if family else Entry("made_to_order", (), {}, (), False)
        changed = replace_part(changed, slot, entry)
        price += (book.data["families"][family].get("price") or 0) if family else 0
    got, good = attempt(changed)
    if not good:
        return None
    return Change(tuple(picks), (), False, got.verdict, price, changed, got)


def _ways(book: Book, build: Build, attempt: Attempt) -> list[Change]:
    """Ways of doing something that could be done otherwise: told-only values of what is not a fact of the host."""
    out = []
    for slot, entry in build.slots.items():
        kind = book.kinds[book.slot_kind[slot]]
        if entry.keep or kind.changeable == "never":
            continue
        for a in kind.attributes:
            told = entry.told.get(a.id)
            if not a.told_only or told is None or told.values is None or a.type == "number":
                continue
            for value in a.values:
                if value in told.values or value == "other":
                    continue
                new = entry._replace(told=entry.told | {a.id: Told((value,), None, False)})
                changed = build._replace(slots=build.slots | {slot: new})
                got, good = attempt(changed)
                if good:
                    out.append(Change((), ((slot, a.id, value),), False, got.verdict, 0.0, changed, got))
    return out
