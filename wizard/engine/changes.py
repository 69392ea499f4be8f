"""When the answer is no: the smallest changes that would make it work, each tried by asking the engine again."""
from __future__ import annotations

from typing import Any, Callable, NamedTuple, Sequence

from .build import Build, Entry, Told
from .clash import guilty_rules
from .decision import viable_values
from .islands import islands
from .model import ADDITIONS, CANNOT_TELL, FAILS, OTHER, WORKS, Book, Instance
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


def find_changes(book: Book, build: Build, clash: Sequence[tuple], guilty: Sequence[Instance],
                 judge: Callable[[Build, bool], Any], failed: Sequence[str]) -> list[Change]:
    """Changes that lead to works or works-with-additions, fewest first, then additions, then price.

    Where nothing does, because something else is not known yet, changes after which nothing fails any more and the
    subjects in `failed` work. `guilty` are the rules of the clash. `judge(build, brief)` asks a build again.
    """
    found = _search(book, build, clash, guilty, lambda b: _if(judge(b, True), ADDITIONS))
    if found:
        return found

    def clears(changed: Build) -> tuple[Any, bool]:
        got, good = _if(judge(changed, True), CANNOT_TELL)
        if good and failed:
            after = dict(judge(changed, False).subjects)
            good = all(after.get(s, WORKS) <= ADDITIONS for s in failed)
        return got, good

    return _search(book, build, clash, guilty, clears, True)


def _if(got: Any, worst: int) -> tuple[Any, bool]:
    return got, got.verdict is not None and got.verdict <= worst and not got.refused


Attempt = Callable[[Build], tuple[Any, bool]]      # what a build comes to, and whether that will do
Step = tuple[str, ...]                             # a slot whose part is changed, or slot, attribute and value of a way


def _search(book: Book, build: Build, clash: Sequence[tuple], guilty: Sequence[Instance], judge: Attempt,
            each: bool = False) -> list[Change]:
    """Changes after which `judge` is content; with `each`, parts are tried even where leaving the slot open would not do.

    Every set of changes must touch the clash, or the clash would stand; where some changes leave another clash, the
    next one comes from that (the tree of hitting sets: Reiter, Artificial Intelligence 32, 1987, cited from memory).
    A part changed also takes along what was said of it, and one made to order is made for what it goes with, so slots
    of which the guilty rules read such things count as touched. Never a part marked keep, never a fact of the host.
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
    hit |= {v.split(".")[0] for r in guilty for v in r.told_only}
    hit |= {s for r in guilty for kind, of in book.layout.ready[r.key].relations if kind == "made_for" for s in of}
    level: list[tuple[Step, ...]] = [((s,),) for s in slots if s in hit or not clash]
    level += [(way,) for way in _ways(book, build, guilty if clash else book.rules)]
    seen = {frozenset(group) for group in level}
    for size in range(1, MOST_SLOTS + 1):
        after: list[tuple[Step, ...]] = []
        for group in level:
            if any(steps < set(group) for steps in ({*((s,) for s, _ in c.parts), *c.ways} for c in found) if steps):
                continue
            got, more = _alternatives(book, build, group, attempt, each)
            found += more
            if not more and got is not None and got.verdict == FAILS and size < MOST_SLOTS:
                rules = guilty_rules(got.question)
                near = {s for r in rules for s in book.layout.ready[r.key].slots}
                for step in [*((s,) for s in slots if s in near), *_ways(book, build, rules)]:
                    bigger = (*group, step)
                    if frozenset(bigger) not in seen and all(_go_together(step, other) for other in group):
                        seen.add(frozenset(bigger))
                        after.append(bigger)
        if len(found) >= WANTED or budget[0] <= 0:
            break
        level = after
    found = [c for c in found if not any(_better(other, c) for other in found)]
    return sorted(found, key=lambda c: (len(c.parts) + len(c.ways), c.verdict, c.price, c.parts, c.ways))[:2 * WANTED]


def _better(a: Change, b: Change) -> bool:
    """Whether the first change does the same things otherwise as the second, and with less to add."""
    return a.verdict < b.verdict and bool(a.ways) and a.parts == b.parts and [w[:2] for w in a.ways] == [w[:2] for w in b.ways]


def _go_together(a: Step, b: Step) -> bool:
    """Whether two steps can be taken together: of one slot, only ways that concern different attributes."""
    return a[0] != b[0] or len(a) > 1 and len(b) > 1 and a[1] != b[1]


def _can_change(book: Book, build: Build, slot: str) -> bool:
    entry = build.slots[slot]
    if entry.keep or entry.state in ("open", "made_to_order", "exists"):
        return False
    return book.kinds[book.slot_kind[slot]].changeable == "whole"


def _alternatives(book: Book, build: Build, group: Sequence[Step], attempt: Attempt,
                  each: bool) -> tuple[Any, list[Change]]:
    """Ways to take some steps: what leaving the parts open came to, then what the engine picks, then others."""
    ways = tuple(sorted(step for step in group if len(step) > 1))
    parts = sorted(step[0] for step in group if len(step) == 1)
    done = build
    for slot, attr, value in ways:
        entry = done.slots[slot]
        new = entry._replace(told=entry.told | {attr: Told((value,), None, False)})
        done = done._replace(slots=done.slots | {slot: new})
    asked = done
    for slot in parts:
        asked = replace_part(asked, slot, Entry("open", (), {}, (), False))
    got, good = attempt(asked)
    if not parts:
        return got, [Change((), ways, False, got.verdict, 0.0, done, got)] if good else []
    if got is None or got.verdict in (None, FAILS) or got.refused or not (good or each):
        return got, []
    out, taken = [], []
    only = parts[0] if len(parts) == 1 else None
    present = build.slots[only].families if only else ()
    if got.decision.choice is not None:
        picks = _picks(got, parts)
        taken = [picks]
        if only:
            taken += [((only, f),) for f in _viable(got.question, only) if f != picks[0][1] and (f,) != present][:2 * WANTED]
    elif only:      # no one part is good for all that is unknown by itself; one of them may be good with what it rules out
        listed = [c.family for c in got.question.space.candidates[only] if c.kind == "family"]
        taken = [((only, None),)] if got.decision.strategies else []
        taken += [((only, f),) for f in listed if (f,) != present][:2 * WANTED]
    for pick in taken:
        change = _try(book, done, pick, ways, attempt)
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


def _picks(got: Any, group: Sequence[str]) -> tuple[tuple[str, str | None], ...]:
    space, made = got.question.space, got.decision.choice.made
    out = []
    for slot in group:
        p = space.part[slot]
        candidate = space.candidates[slot][made[p].bit_length() - 1 if p in made else 0]
        out.append((slot, candidate.family))
    return tuple(out)


def _try(book: Book, build: Build, picks: Sequence[tuple[str, str | None]], ways: tuple[tuple[str, str, str], ...],
         attempt: Attempt) -> Change | None:
    changed, price = build, 0.0
    for slot, family in picks:
        entry = Entry("family", (family,), {}, (), False) if family else Entry("made_to_order", (), {}, (), False)
        changed = replace_part(changed, slot, entry)
        price += (book.data["families"][family].get("price") or 0) if family else 0
    got, good = attempt(changed)
    if not good:
        return None
    return Change(tuple(picks), ways, False, got.verdict, price, changed, got)


def _ways(book: Book, build: Build, rules: Sequence[Instance]) -> list[Step]:
    """What could be done otherwise: other values of told-only attributes that these rules read, host facts apart."""
    read = {v for r in rules for v in r.told_only}
    out: list[Step] = []
    for slot, entry in build.slots.items():
        kind = book.kinds[book.slot_kind[slot]]
        if entry.keep or kind.changeable == "never":
            continue
        for a in kind.attributes:
            told = entry.told.get(a.id)
            if f"{slot}.{a.id}" in read and told is not None and told.values is not None and a.type != "number":
                out += [(slot, a.id, value) for value in a.values if value not in told.values and value != OTHER]
    return out
