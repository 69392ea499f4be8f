"""One choice good for every unknown: what it must keep clear of, whether there is one, which parts it can hold.

Most failing boxes bar choices outright (bars.py). Where something ties chosen parts to what is unknown, a choice is
proposed and a world that spoils it looked for, each spoiling world ruling out all choices it spoils
(counterexample-guided refinement for two-level quantification: Janota, Klieber, Marques-Silva and Clarke, Artificial
Intelligence 234, 2016, cited from memory).
"""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .bars import static_bars
from .model import ADDITIONS, WORKS
from .outcome import Box
from .local import pieces
from .parts import parts_meet
from .question import NODES, Question, homes, ours_in, rule_tables, to_specify, with_rules
from .solutions import Solutions, mended
from .tables import Network, Table, network, propagate, search, table

PROPOSALS = 400         # choices proposed before giving up
TRIES = 12              # rules that a better choice is sought for


class Choice(NamedTuple):
    """One choice for all unknowns: `dom` is the domain with it made; `made` the chosen bit of each of our variables."""

    dom: tuple[int, ...]
    made: dict[int, int]


def can_be(q: Question, worst: int, free: bool = True) -> tuple[bool, bool]:
    """Whether some world and some choice come to at most `worst`: (answer, cut short)."""
    tables = rule_tables(q, worst)
    if tables is None:
        return False, False
    found = search(q.free_dom if free else q.dom, network(with_rules(q, tables)), limit=NODES)
    return found.dom is not None or found.limit, found.limit


class Chooser(NamedTuple):
    """What a choice must keep clear of so that no world is worse than asked, and the boxes left to learning."""

    net: Network
    hard: tuple[Box, ...]


def chooser(q: Question, worst: int, start: Sequence[int]) -> Chooser | None:
    """The tables that a good choice meets; None when no choice is good."""
    barred, hard = static_bars(q, worst, start)
    if barred is None:
        return None
    if not hard:
        # nothing ties slots together, so only our own variables matter, and what a part made to order may be
        made = {s for s in q.space.part if to_specify(q.space, s)}
        own = [t for t in with_rules(q, ()) if homes(q.space, t) & made]
        return Chooser(network([*own, *barred]), ())
    tables = rule_tables(q, worst)
    return None if tables is None else Chooser(network([*with_rules(q, tables), *barred]), tuple(hard))


def kept_chooser(q: Question, worst: int) -> Chooser | None:
    """The chooser on the whole domain, worked out once for a question."""
    if ("chooser", worst) not in q.memo:
        q.memo["chooser", worst] = chooser(q, worst, q.dom)
    return q.memo["chooser", worst]


def choice_for_all(q: Question, worst: int, dom: Sequence[int] | None = None,
                   ready: Chooser | None = None) -> tuple[Choice | None, bool]:
    """A choice under which every world comes to at most `worst`: (choice or None, cut short).

    `ready` is the chooser of the whole domain, for a `dom` that is narrower only in what is ours.
    """
    start = q.dom if dom is None else dom
    if 0 in start:
        return None, False
    ours = ours_in(q)
    made_for = ready if ready is not None else kept_chooser(q, worst) if dom is None else chooser(q, worst, start)
    if made_for is None:
        return None, False
    net = made_for.net
    for _ in range(PROPOSALS):
        found = search(start, net, over=ours, limit=NODES)
        if found.dom is None:
            return None, found.limit
        made = {v: found.dom[v] for v in ours}
        fixed = [made.get(v, d) for v, d in enumerate(start)]
        if not propagate(fixed, q.base, [i for v in ours for i in q.base.watch.get(v, ())]):
            return None, True
        spoiled, cut = _spoiler(q, fixed, made_for.hard)
        if spoiled is None:
            return (None, True) if cut else (Choice(tuple(fixed), made), False)
        bar = _bar(q, made, spoiled)
        if bar is None:
            return None, False
        net = network([*net.tables, bar])
    return None, True


def with_fewer_additions(q: Question, choice: Choice) -> Choice:
    """Another good choice under which more rules simply work, if there is one; rules are won over one at a time."""
    if not ours_in(q):
        return choice
    ready = kept_chooser(q, ADDITIONS)
    if ready is None or ready.hard:
        return choice
    tries = TRIES
    for unit, found in zip(q.units, q.found):
        some = [b for b in found.boxes if b.verdict == ADDITIONS and reaches(q, choice.dom, b)[0]]
        if not some or tries == 0:
            continue
        tries -= 1
        bars, hard = static_bars(q._replace(units=(unit,), found=(found,)), WORKS, q.dom)
        if bars is None or hard:
            continue
        better = Chooser(network([*ready.net.tables, *bars]), ())
        won, _ = choice_for_all(q, ADDITIONS, None, better)
        if won is not None:
            choice, ready = won, better
    return choice


def viable_values(q: Question, first: Choice | None) -> dict[tuple[int, int], bool]:
    """For each of our part variables and each of its values: whether some choice with it is good for every world."""
    if "viable" not in q.memo:
        ready = kept_chooser(q, ADDITIONS)
        parts = [v for v in ours_in(q) if v in set(q.space.part.values())]
        values = [(v, 1 << i) for v in parts for i in range(q.dom[v].bit_length()) if q.dom[v] >> i & 1]
        if ready is None:
            q.memo["viable"] = dict.fromkeys(values, False)
        elif ready.hard:
            q.memo["viable"] = _viable_by_learning(q, first, ready, values)
        else:
            choices = Solutions(q.dom, ready.net, ours_in(q))
            q.memo["viable"] = {(v, bit): choices.has(v, bit) is True for v, bit in values}
    return q.memo["viable"]


def _viable_by_learning(q: Question, first: Choice | None, ready: Chooser, values: Sequence[tuple[int, int]]) \
        -> dict[tuple[int, int], bool]:
    """The same where choices have to be proposed: one good choice answers for all the values in it, so values not yet
    answered are tried first."""
    out: dict[tuple[int, int], bool] = {}
    parts = sorted({v for v, _ in values})

    def note(choice: Choice) -> None:
        for v in parts:
            out[v, choice.made[v]] = True

    if first is not None:
        note(first)
    for v, bit in values:
        if (v, bit) in out:
            continue
        fresh = list(q.dom)
        for w in parts:
            new = sum(b for u, b in values if u == w and (u, b) not in out)
            fresh[w] = new or q.dom[w]
        plain = list(q.dom)
        fresh[v] = plain[v] = bit
        choice = None
        for dom in (fresh, plain):
            if choice is None and propagate(dom, q.base, [t for w in parts for t in q.base.watch.get(w, ())]):
                choice, _ = choice_for_all(q, ADDITIONS, dom, ready)
        if choice is not None:
            note(choice)
        else:
            out[v, bit] = False
    return out


def _spoiler(q: Question, fixed: Sequence[int], among: Sequence[Box]) -> tuple[Box | None, bool]:
    """One of these boxes that some world reaches under this choice."""
    limit = False
    for box in among:
        reached, cut = reaches(q, fixed, box)
        if reached:
            return box, cut
        limit = limit or cut
    return None, limit


def reaches(q: Question, dom: Sequence[int], box: Box, seen: dict | None = None) -> tuple[bool, bool]:
    """Whether some assignment within `dom` (narrowed by the base tables) lies in the box: (answer, cut short).

    Cut short counts as yes. `seen` remembers between boxes, for one `dom`, what was found of parts of them.
    """
    narrow: dict[int, int] = {}         # what the box asks beyond what is so anyway
    for v, mask in box.masks.items():
        left = dom[v] & mask
        if not left:
            return False, False
        if left != dom[v]:
            narrow[v] = left
    if not narrow:
        return True, False
    met = parts_meet(q, dom, narrow)
    if met is not None:
        return met, False
    cut = False
    for vars_, net in pieces(q, box.masks):
        key = (vars_, tuple([box.masks[v] & dom[v] for v in vars_]))
        found = None if seen is None else seen.get(key)
        if found is None:
            state = list(dom)
            for v in vars_:
                state[v] &= box.masks[v]
            close = seen.get(vars_) if seen is not None else None
            world = mended(state, net, close) if close else None
            cut_here = False
            if world is None:
                world, cut_here = search(state, net, limit=NODES, start=[i for v in vars_ for i in net.watch.get(v, ())])
            found = world is not None or cut_here, cut_here
            if seen is not None:
                seen[key] = found
                if world is not None:
                    seen[vars_] = {v: world[v] for v in net.watch}
        if not found[0]:
            return False, False
        cut = cut or found[1]
    return True, cut


def _bar(q: Question, made: dict[int, int], box: Box) -> Table | None:
    """All choices that the box spoils in the same way; None when the choice has no part in it."""
    slots: set[str] = set()
    for v in box.masks:
        slots.update(q.space.feeds.get(v, ()) or (q.space.names[v].split(".")[0],))
    ties = [{q.space.names[v].split(".")[0] for v in t.vars if not q.space.names[v].startswith("same ")}
            for t in q.space.tables if not any(v in q.space.feeds for v in t.vars)]
    ties = [t for t in ties if len(t) > 1]
    spread = True
    while spread:
        spread = False
        for tie in ties:
            if tie & slots and not tie <= slots:
                slots |= tie
                spread = True
    tied = set().union(*ties) & slots
    parts = set(q.space.part.values())
    narrow: dict[int, int] = {}
    for v, bit in made.items():
        home = set(q.space.feeds.get(v, ())) or {q.space.names[v].split(".")[0]}
        if v in parts or home & tied or q.space.names[v].startswith("aim "):
            if home & slots:
                narrow[v] = bit
        elif v in box.masks:
            narrow[v] = box.masks[v] & q.space.dom[v]
    if not narrow:
        return None
    vars_ = tuple(sorted(narrow))
    boxes = tuple(tuple(q.space.dom[w] & ~narrow[v] if w == v else q.space.dom[w] for w in vars_) for v in vars_)
    return table(vars_, boxes)
