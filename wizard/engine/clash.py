"""When the answer is no: one smallest set of what was told that cannot stand together, and the rules that make it so.

The set is found by QuickXplain (Junker, AAAI 2004, cited from memory) over statements in order of preference: first
what the deciding rule reads, then what a customer can act on. Dropping a statement only ever lets more be possible,
which is what makes the set minimal in the strict sense: without any one of its members the answer is no longer no.
"""
from __future__ import annotations

from typing import Any, Callable, Sequence

from .build import Build
from .decision import can_be
from .islands import islands
from .question import NODES, Question, ask, question_space, rule_tables, with_rules
from .model import CANNOT_TELL, Book, Instance
from .outcome import Unit
from .solutions import mended
from .space import keep
from .tables import network, search
from .verdict import failing, one_fails
from .witness import stands

Key = tuple
WORLD = ("world",)  # where a book keeps a world that did not fail
TESTS = 400         # satisfiability questions that one clash may take


def statements(book: Book, build: Build) -> list[Key]:
    """Everything told that narrows what can be, as keys: parts, values, relations, what is kept, nothing added."""
    keys: list[Key] = [("slot", s) for s, e in build.slots.items()
                       if e.state in ("family", "one_of", "in_hand", "none")]
    keys += [("told", s, a) for s, e in build.slots.items() for a, t in e.told.items() if t.values or t.span]
    keys += [("relation", i) for i, r in enumerate(build.relations) if r.value != "not_sure"]
    keys += [("keep", s) for s, e in build.slots.items() if e.keep]
    return keys + ([("nothing_added",)] if build.allowed_types is not None else [])


def without(build: Build, drop: frozenset) -> Build:
    """The build with `keep` and `nothing added` taken back where dropped; other statements drop in the space."""
    slots = {s: e._replace(keep=False) if ("keep", s) in drop else e for s, e in build.slots.items()}
    allowed = None if ("nothing_added",) in drop else build.allowed_types
    return build._replace(slots=slots, allowed_types=allowed)


def felt_only(book: Book, build: Build, rules: Sequence[Instance]) -> Build:
    """The build without the parts that these rules cannot feel: each of them can be, whatever the others are."""
    slots = {s for r in rules for s in book.layout.ready[r.key].slots} | {n.split(".")[0] for r in build.relations for n in r.of}
    return build._replace(slots={s: e for s, e in build.slots.items() if s in slots})


def fails(book: Book, build: Build, rules: Sequence[Instance], drop: frozenset, speaking: frozenset[str] | None = None) -> bool:
    """Whether no world and no choice comes to better than will-not-work for these rules.

    `speaking` names those that are answered for; the others are there for what their additions set.
    """
    build = felt_only(book, without(build, drop), rules)
    q = ask(book, build, question_space(book, build, rules, (), drop), rules, speaking=speaking)
    if not q.consistent or q.limit:
        return False
    return one_fails(q) is not None or not all(_can_stand(i.question) for i in islands(q))


def _can_stand(q: Question) -> bool:
    """Whether an island need not fail, tried first close to a world in which others did not."""
    memo = q.memo
    if "could" not in memo and "close" not in memo:
        tables = rule_tables(q, CANNOT_TELL)
        if tables is None:
            memo["could"] = False, False
            return False
        net = network(with_rules(q, tables))
        near = keep(q.book, WORLD, dict)
        world = mended(q.free_dom, net, near)
        if world is not None:
            memo["close"] = True
        else:
            found = search(q.free_dom, net, limit=NODES)
            world, memo["could"] = found.dom, (found.dom is not None or found.limit, found.limit)
        if world is not None:
            near.update((v, world[v]) for v in net.watch)
    return "close" in memo or memo["could"][0]


def guilty_rules(q: Question) -> tuple[Instance, ...]:
    """A small set of rules that fail together: those of one unit if one fails alone, else of units dropped one at a time."""
    return tuple(unit.rules[k].inst for unit in guilty_units(q) for k in unit.speaks)


def guilty_units(q: Question) -> tuple[Unit, ...]:
    """The units of these rules."""
    part = failing(q)
    if part is None:
        return ()

    def stuck(keep: Sequence[int]) -> bool:
        some = part._replace(units=tuple(part.units[i] for i in keep), found=tuple(part.found[i] for i in keep))
        return not can_be(some, CANNOT_TELL)[0]

    able = [i for i, boxes in enumerate(part.boxes) if any(b.verdict > CANNOT_TELL for b in boxes)]
    for i in able:
        reached = any(b.verdict <= CANNOT_TELL and all(q.free_dom[v] & m for v, m in b.masks.items())
                      for b in part.boxes[i])
        if not reached and stuck([i]):
            return (part.units[i],)
    return tuple(part.units[i] for i in quick_xplain(able, stuck))


def find_clash(book: Book, build: Build, q: Question, rules: Sequence[Instance]) -> tuple[list[Key], tuple[Instance, ...]]:
    """One minimal set of statements under which `rules` fail, with the rules that make it so; empty at a limit."""
    units = guilty_units(q)
    guilty = tuple(unit.rules[k].inst for unit in units for k in unit.speaks)
    place = {r.key: i for i, r in enumerate(rules)}
    # with all rules whose additions may set right what these find wrong, so that where they fail, all rules do
    closed = _rules_of(units, place)
    read = {v for r in guilty for v in r.reads}
    slots = {s for r in guilty for s in r.about + r.partners} | {v.split(".")[0] for v in read}
    keys = statements(book, build)

    def weight(key: Key) -> tuple:
        if key[0] == "told":
            return 0 if f"{key[1]}.{key[2]}" in read else 3
        if key[0] in ("slot", "keep"):
            return 1 if key[1] in slots else 3
        return 2
    order = sorted(keys, key=lambda k: (weight(k), _fixed(book, k), str(k)))
    budget = [TESTS]

    def no(kept: Sequence[Key], among: Sequence[Instance], speaking: frozenset[str] | None = None) -> bool:
        budget[0] -= 1
        return budget[0] >= 0 and fails(book, build, among, frozenset(keys) - frozenset(kept), speaking)

    theirs = closed, frozenset(r.key for r in guilty)
    near = [k for k in order if weight(k) < 3]
    found = quick_xplain(near if no(near, *theirs) else order, lambda kept: no(kept, *theirs))
    for key in reversed(list(found)):           # the other rules may make a smaller set enough
        rest = [k for k in found if k != key]
        drop = frozenset(keys) - frozenset(rest)
        fine = stands(book, without(build, drop), rules, drop)
        if not fine and (fine is False or no(rest, rules)):
            found = rest
    if budget[0] < 0:
        return [], guilty
    drop = frozenset(keys) - frozenset(found)
    about = {k[1] for k in found if k[0] in ("slot", "told", "keep")}
    near_by = _rules_of([u for u in q.units if about & set(u.slots)], place)
    some, speaking = next((s for s in (theirs, (near_by, None)) if no(found, *s)), (rules, None))
    left = felt_only(book, without(build, drop), some)
    named = guilty_rules(ask(book, left, question_space(book, left, some, (), drop), some, speaking=speaking))
    return found, named or guilty       # at a limit nothing is shown of so few statements


def _rules_of(units: Sequence[Unit], place: dict[str, int]) -> tuple[Instance, ...]:
    """All rules that some units look at, in their order."""
    return tuple(sorted({p.inst.key: p.inst for unit in units for p in unit.rules}.values(), key=lambda r: place[r.key]))


def _fixed(book: Book, key: Key) -> bool:
    """Whether a customer cannot act on a statement: it is a fact of the host."""
    return key[0] in ("slot", "told") and book.kinds[book.slot_kind[key[1]]].changeable == "never"


def quick_xplain(order: Sequence[Any], no: Callable[[Sequence[Any]], bool]) -> list[Any]:
    """A minimal sublist of `order` for which `no` holds, preferring early members; `no(order)` must hold."""
    if no([]):
        return []

    def explain(background: list[Any], delta: bool, among: list[Any]) -> list[Any]:
        if delta and no(background):
            return []
        if len(among) == 1:
            return among
        half = (len(among) + 1) // 2
        first, second = among[:half], among[half:]
        later = explain(background + first, bool(first), second)
        return explain(background + later, bool(later), first) + later

    found = explain([], False, list(order)) if order else []
    return [k for k in order if k in found]
