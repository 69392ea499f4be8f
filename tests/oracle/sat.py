"""A build decided with python-sat: can it be at all, does it fail, what is viable, and for every world is there a choice.

The unknowns are expanded: every setting of them that can be is looked at by itself, and the solver finds the additions.
"""

from __future__ import annotations

from typing import Iterator, NamedTuple

from pysat.solvers import Cadical153, Minisat22

from tests.oracle import relations
from tests.oracle.ground import Json, scope, spoken_of
from tests.oracle.parts import is_told
from tests.oracle.translate import Translation, Unsupported, slots_to_buy


Named = tuple[str, "str | None"]


class TooMany(Exception):
    """More worlds than the cap allows."""


class Found(NamedTuple):
    """The verdict, None for a contradiction, and per open slot the families that still lead to a good end."""

    verdict: str | None
    viable: dict[str, list[str]]


class Expanded:
    """The settings of what we choose and of what we do not know, as sets of literals."""

    def __init__(self, made: Translation, cap: int) -> None:
        self.made, self.cap = made, cap
        self.enough, self.plain, self.not_failing = made.enough, made.plain, made.not_failing
        self.ours, self.given, self.after = self._sort()
        either = [[lit, -lit] for lit in (*self.ours, *self.given, *self.after)]   # or it may be missing from models
        self.worlds = Minisat22(bootstrap_with=[*made.cnf.clauses[:made.worlds_only], *either])
        self.last = made.cnf.pool.top
        self.ends = Cadical153(bootstrap_with=made.cnf.clauses)
        self.memo: dict[tuple[frozenset[int], int], bool] = {}

    def close(self) -> None:
        """Let the solvers go."""
        self.worlds.delete()
        self.ends.delete()

    def _sort(self) -> tuple[list[int], list[int], list[int]]:
        """Return the literals that are ours to set, those that are given, and those known only after a choice."""
        made = self.made
        ours: list[int] = []
        given: list[int] = []
        after: list[int] = []
        chosen = {s for s, said in made.statements.items() if said.state in ("open", "in_hand", "made_to_order")}
        for slot, said in made.statements.items():
            picks = [made.cnf.var("pick", slot, way) for way, _ in made.options(slot)]
            (ours if slot in chosen else given).extend(picks)
            for name in sorted(n for n in made.names if n.startswith(f"{slot}.") and not n.endswith(".fitted")):
                literals = [made.value(name, v) for v in made.domain(name)]
                if said.state == "made_to_order":
                    mine = not is_told(said.options[0], name.split(".")[1])
                    (ours if mine else given).extend(literals)
                else:
                    (after if slot in chosen else given).extend(literals)
        for name, literal in list(made.cnf.pool.obj2id.items()):
            if isinstance(name, tuple) and name[0] in ("relation", "flag", "band", "sign"):
                slots = name[2] if name[0] == "relation" else {
                    v.split(".")[0] for part in name[1:3] if isinstance(part, str) for v in made.inputs(part)}
                settled = name[0] == "relation" and name[1] != "listed_together"
                (given if settled or not chosen & set(slots) else after).append(literal)
        return ours, given, after

    def settings(self, literals: list[int], assumed: list[int]) -> Iterator[list[int]]:
        """Yield every setting of some literals that can be under what is assumed."""
        wanted = set(literals)
        self.last += 1
        walk = self.last        # the clauses of this walk hold only under this literal, so that one solver serves all
        for count in range(self.cap + 1):
            if not self.worlds.solve(assumptions=[*assumed, walk]):
                break
            if count == self.cap:
                raise TooMany(f"more than {self.cap} settings")
            model = [lit for lit in self.worlds.get_model() if abs(lit) in wanted]
            yield model
            self.worlds.add_clause([-walk, *(-lit for lit in model)])
        self.worlds.add_clause([-walk])

    def can_be(self, assumed: list[int]) -> bool:
        """Return whether some world and choice agree with what is assumed."""
        return bool(self.worlds.solve(assumptions=assumed))

    def good(self, assumed: list[int], end: int) -> bool:
        """Return whether the additions can bring one fixed world and choice to an end."""
        key = (frozenset(assumed), end)
        if key not in self.memo:
            self.memo[key] = bool(self.ends.solve(assumptions=[*assumed, end]))
        return self.memo[key]


def stops(book: Json, build: Json) -> tuple[set[Named], set[Named]]:
    """Return the stops that hold in every world and choice, and those that hold in some only and are worth saying."""
    made = Translation(book, build, stops=True)
    with Minisat22(bootstrap_with=made.cnf.clauses[:made.worlds_only]) as solver:
        may = {name for name, lit in made.holding.items() if solver.solve(assumptions=[lit])}
        must = {name for name in may if not solver.solve(assumptions=[-made.holding[name]])}
    asked = scope(book, build)
    silent = {(one.id, one.slot) for one in asked.stops if book["stops"][one.id]["effect"] != "hold"
              and not spoken_of(book, build, asked, one)}
    return must, may - must - silent


class Glance(NamedTuple):
    """What needs no expanding: can it be at all, does some rule speak, does every world and choice fail."""

    can_be: bool
    speaks: bool
    fails: bool

    @property
    def verdict(self) -> str | None:
        """Return the verdict as far as it is settled: None for a contradiction, "" where expanding must tell."""
        if not self.can_be:
            return None
        return "cannot-tell" if not self.speaks else "will-not-work" if self.fails else ""


def glance(book: Json, build: Json, made: Translation | None = None) -> Glance:
    """Return what one question each to the solver tells of a build; stops are left out."""
    if relations.contradict(book, build):
        return Glance(False, False, False)
    made = made or Translation(book, build)
    found = scope(book, build)
    with Minisat22(bootstrap_with=made.cnf.clauses[:made.worlds_only]) as worlds:   # what can be, nothing added yet
        if not worlds.solve():
            return Glance(False, False, False)
        speaks = any(worlds.solve(assumptions=[made.fitted(0, slot) for slot in one.needed])
                     for one in (*found.rules, *found.taken))
    fine = made.not_failing
    with Cadical153(bootstrap_with=made.cnf.clauses) as solver:
        return Glance(True, speaks, not solver.solve(assumptions=[fine]))


def listed_only(made: Translation, to_buy: list[str]) -> list[int]:
    """Return the assumptions that the open slots which count take a listed family."""
    return [-made.cnf.var("pick", slot, "free") for slot in to_buy if made.statements[slot].state == "open"]


def decide(book: Json, build: Json, subjects: tuple[str, ...] | None = None, cap: int = 400,
           made: Translation | None = None) -> Found:
    """Return verdict and viable families of a build; stops are left out. Raises TooMany or Unsupported.

    `made` is its translation where that is at hand.
    """
    if relations.contradict(book, build):
        return Found(None, {})
    made = made or Translation(book, build, subjects)
    expanded = Expanded(made, cap)
    try:
        return _decide(made, expanded, book, build, subjects)
    finally:
        expanded.close()


def _decide(made: Translation, x: Expanded, book: Json, build: Json, subjects: tuple[str, ...] | None) -> Found:
    if not x.can_be([]):
        return Found(None, {})
    found = scope(book, build)
    asked = [i for i in (*found.rules, *found.taken) if subjects is None or i.subject in subjects]
    if not asked:
        return Found("cannot-tell", {})
    to_buy = slots_to_buy(made, asked, subjects is None)
    listed = listed_only(made, to_buy)
    choices = list(x.settings(x.ours, listed)) if x.can_be(listed) else []
    worlds = list(x.settings(x.given, []))
    works_for: list[list[bool]] = []
    plain_for: list[bool] = []
    for choice in choices:
        row, plain = [], True
        for world in worlds:
            ends = list(x.settings(x.after, [*choice, *world]))
            row.append(bool(ends) and all(x.good([*choice, *world, *end], x.enough) for end in ends))
            plain = plain and bool(ends) and all(x.good([*choice, *world, *end], x.plain) for end in ends)
        works_for.append(row)
        plain_for.append(plain)
    good = [n for n, row in enumerate(works_for) if all(row)]
    viable = _viable(made, choices, good)
    if not any(x.can_be([made.fitted(0, slot) for slot in one.needed]) for one in asked):
        return Found("cannot-tell", viable)  # every rule is about a part that is not fitted
    if not x.good([], x.not_failing):
        return Found("will-not-work", {slot: [] for slot in viable})
    if any(not _can_be_had(x, made, slot) for slot in to_buy):
        return Found("cannot-tell", viable)
    if good:
        plain = any(plain_for[n] for n in good) and not to_buy
        return Found("works" if plain else "works-with-additions", viable)
    each = choices and all(any(row[n] for row in works_for) for n in range(len(worlds)))
    return Found("works-with-additions" if each else "cannot-tell", viable)


def _can_be_had(x: Expanded, made: Translation, slot: str) -> bool:
    if made.statements[slot].state != "open":
        return True
    return x.can_be([-made.cnf.var("pick", slot, "free")])


def _viable(made: Translation, choices: list[list[int]], good: list[int]) -> dict[str, list[str]]:
    found = {}
    for slot, said in made.statements.items():
        if said.state == "open":
            ways = {made.cnf.var("pick", slot, way): option.family for way, option in made.options(slot)
                    if option is not None and option.family}
            taken = {lit for n in good for lit in choices[n] if lit > 0}
            found[slot] = sorted(family for lit, family in ways.items() if lit in taken)
    return found


__all__ = ["Found", "Glance", "TooMany", "Unsupported", "decide", "glance", "stops"]
