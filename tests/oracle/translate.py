"""One book and one build as clauses: the parts, the rules, and the additions step by step."""

from __future__ import annotations

from functools import cached_property
from itertools import product
from typing import Any

from tests.oracle import relations
from tests.oracle.bands import Band, cut, inside
from tests.oracle.ground import Bought, Instance, Json, OTHER, RANK, blocked, with_needs
from tests.oracle.translate_parts import NOTHING, Parts, Unsupported

__all__ = ["NOTHING", "Translation", "Unsupported", "bare_rule", "slots_to_buy"]


class Translation(Parts):
    """The clauses of a build, with the literals that say how it ends."""

    def __init__(self, book: Json, build: Json, subjects: tuple[str, ...] | None = None, stops: bool = False) -> None:
        super().__init__(book, build, subjects, stops)
        self._words()
        self.holding = {(one.id, one.slot): self.cases(0, one)[0] for one in self.stops}
        self.worlds_only = len(self.cnf.clauses)

    @cached_property
    def enough(self) -> int:
        """Return the literal of ending with additions at worst; adds what says how additions come about."""
        return self._ends[0]

    @cached_property
    def plain(self) -> int:
        """Return the literal of working without any addition."""
        return self._ends[1]

    @cached_property
    def not_failing(self) -> int:
        """Return the literal of ending at worst in what cannot be told."""
        return self._ends[2]

    @cached_property
    def settable(self) -> set[str]:
        """Return the attributes that some addition sets."""
        return {name for sets in self.sets.values() for name in sets}

    def moves(self, one: Instance) -> bool:
        """Return whether additions can change what a rule comes to."""
        reads = one.reads(self.book) | {f"{slot}.fitted" for slot in one.slots_read(self.book)}
        return bool(reads & self.settable)

    # Rules --------------------------------------------------------------------------------------------------------

    def at(self, step: int, name: str, value: Any) -> int:
        """Return the literal of an attribute having a value after some additions."""
        setters = [b for b in self.bought if name in self.sets[b]]
        if step == 0 or not setters:
            return self.value(name, value)
        literal = self.cnf.var("at", step, name, value)
        if not self.cnf.known("at made", step, name):
            self.cnf.var("at made", step, name)
            self._settable(step, name, setters)
        return literal

    def _settable(self, step: int, name: str, setters: list[Bought]) -> None:
        """Tie what an attribute is after some additions to what they set, a copy of nothing setting nothing."""
        cnf = self.cnf
        values = [*self.domain(name), *(v for b in setters for v in self._brought(b, name) if v not in self.domain(name))]
        values = list(dict.fromkeys(values))
        cnf.exactly_one([cnf.var("at", step, name, v) for v in values])
        acts = []
        for bought in setters:
            how, source = self.sets[bought][name]
            here = self._acts(step, bought, name)
            if how == "to":
                cnf.add(-here, cnf.var("at", step, name, source), cnf.var("clash", step))
                acts.append(here)
            else:
                for v in self._brought(bought, name):
                    cnf.add(-here, -self.source(source, v), cnf.var("at", step, name, v), cnf.var("clash", step))
                acts.append(cnf.conj([here, -self.source_nothing(source)]))
        for v in values:
            before = self.value(name, v) if v in self.domain(name) else -cnf.true
            cnf.add(*acts, -before, cnf.var("at", step, name, v))

    def _acts(self, step: int, bought: Bought, name: str) -> int:
        """Return the literal of an addition being had whose setting counts: a part not fitted takes none."""
        slot, _, attr = name.partition(".")
        here = self.cnf.var("have", step, bought)
        return here if attr == "fitted" else self.cnf.conj([here, self.fitted(step, slot)])

    def _brought(self, bought: Bought, name: str) -> list[Any]:
        how, source = self.sets[bought][name]
        return [source] if how == "to" else [v for v in self.domain(source) if v != NOTHING]

    def source(self, name: str, value: Any) -> int:
        """Return the literal of what a copy finds at the outset."""
        return self.value(name, value)

    def source_nothing(self, name: str) -> int:
        """Return the literal of a copy finding nothing to copy."""
        return self.value(name, NOTHING) if not name.endswith(".fitted") else -self.cnf.true

    def _clashes(self, step: int) -> None:
        """Say that a step clashes exactly when two of its additions set one attribute to different values."""
        cnf, pairs = self.cnf, []
        for n, one in enumerate(self.bought):
            for other in self.bought[n + 1:]:
                for name in set(self.sets[one]) & set(self.sets[other]):
                    differ = [cnf.conj([self._sets_to(one, name, a), self._sets_to(other, name, b)])
                              for a in self._brought(one, name) for b in self._brought(other, name) if a != b]
                    pairs.append(cnf.conj([self._acts(step, one, name), self._acts(step, other, name), cnf.disj(differ)]))
        clash, some = cnf.var("clash", step), cnf.disj(pairs)
        cnf.add(-clash, some)
        cnf.add(clash, -some)

    def _sets_to(self, bought: Bought, name: str, value: Any) -> int:
        how, source = self.sets[bought][name]
        return self.cnf.true if how == "to" else self.source(source, value)

    def fitted(self, step: int, slot: str) -> int:
        """Return the literal of a slot's part being fitted after some additions."""
        return self.at(step, f"{slot}.fitted", "yes")

    def test(self, step: int, test: Json) -> int:
        """Return the literal of one test matching after some additions."""
        cnf = self.cnf
        if "relation" in test:
            literal = cnf.var("relation", test["relation"], frozenset(test["of"]))
            there = [self.fitted(step, slot) for slot in test["of"]]
            return cnf.conj([*there, literal if test["is"] == "yes" else -literal])
        slot, _, attr = test["on"].partition(".")
        if "in" in test:
            here = cnf.disj(self.at(step, test["on"], v) for v in test["in"] if self._can_be(step, test["on"], v))
            return here if attr == "fitted" else cnf.conj([self.fitted(step, slot), here])
        if "same_as" in test:
            return self._same_test(step, test)
        applies = [self._applies(step, name) for end in (test["on"], test["low"], test["high"])
                   if isinstance(end, str) for name in self.inputs(end)]
        limits = []
        for end, sign in (("low", 1), ("high", -1)):
            if isinstance(test[end], str):
                first, second = sorted((test["on"], test[end]))
                wanted = [sign if test["on"] == first else -sign] + ([] if test[f"{end}_open"] else [0])
                limits.append(cnf.disj(cnf.var("sign", first, second, s) for s in wanted))
        low, high = (None if isinstance(test[end], str) else test[end] for end in ("low", "high"))
        if low is not None or high is not None:
            fine = self.within(test, low, high)
            limits.append(cnf.disj(cnf.var("band", test["on"], b) if test["on"].startswith("sum.")
                                   else self.value(test["on"], b) for b in fine))
        return cnf.conj([*applies, *limits])

    def within(self, test: Json, low: float | None, high: float | None) -> list[Band]:
        """Return the bands that meet a test's constant limits."""
        return [b for b in self._bands(test["on"]) if inside(b, low, test["low_open"], high, test["high_open"])]

    def _bands(self, name: str) -> list[Band]:
        if name.startswith("sum."):
            return cut(float("-inf"), float("inf"), self.points.get(name.partition("@")[0], []))
        return self.domain(name)[:-1]

    def _applies(self, step: int, name: str) -> int:
        return self.cnf.conj([self.fitted(step, name.split(".")[0]), -self.value(name, NOTHING)])

    def _can_be(self, step: int, name: str, value: Any) -> bool:
        if value in self.domain(name):
            return True
        return step > 0 and any(value in self._brought(b, name) for b in self.bought if name in self.sets[b])

    def _same_test(self, step: int, test: Json) -> int:
        cnf, left, right = self.cnf, test["on"], test["same_as"]
        slots = [self.fitted(step, name.split(".")[0]) for name in (left, right)]
        ways = []
        for a, b in product(self._all_values(step, left), self._all_values(step, right)):
            both = [self.at(step, left, a), self.at(step, right, b)]
            if a == b == OTHER:
                same = self._other_same(step, left, right)
                ways.append(cnf.conj([*both, same if test["is"] else -same]))
            elif (a == b) == test["is"]:
                ways.append(cnf.conj(both))
        return cnf.conj([*slots, cnf.disj(ways)])

    def _all_values(self, step: int, name: str) -> list[Any]:
        values = [v for v in self.domain(name) if v != NOTHING]
        if step:
            values += [v for b in self.bought if name in self.sets[b] for v in self._brought(b, name)]
        return list(dict.fromkeys(values))

    def _other_same(self, step: int, left: str, right: str) -> int:
        """Return the literal of two other ones being the same, following what an addition copied from where."""
        cnf, ways = self.cnf, []
        for (a, here), (b, there) in product(self._origins(step, left), self._origins(step, right)):
            ways.append(cnf.conj([here, there, self.flag(a, b)]))
        return cnf.disj(ways)

    def _origins(self, step: int, name: str) -> list[tuple[str, int]]:
        cnf, copies = self.cnf, []
        if step:
            for bought in self.bought:
                how, source = self.sets[bought].get(name, ("to", ""))
                if how == "same_as":
                    copies.append((source, cnf.conj([self._acts(step, bought, name), -self.source_nothing(source)])))
        last: list[tuple[str, int]] = []
        for n, (source, used) in enumerate(copies):
            last.append((source, cnf.conj([used, *(-later for _, later in copies[n + 1:])])))
        return [*last, (name, cnf.conj(-used for _, used in copies))]

    def cases(self, step: int, one: Instance) -> list[int]:
        """Return, per case, the literal of the rule coming to it after some additions."""
        cnf = self.cnf
        there = [self.fitted(step, slot) for slot in one.needed]
        found, before = [], []
        for case in one.cases:
            here = cnf.disj(cnf.conj(self.test(step, t) for t in row) for row in case.rows)
            found.append(cnf.conj([*there, here, *(-earlier for earlier in before)]))
            before.append(here)
        return found

    def _words(self) -> None:
        """Leave out the worlds in which only a word of origin saves a rule from a failure that a case establishes."""
        to_be_bought = {s for s, said in self.statements.items() if said.state in ("open", "made_to_order")}
        for one in self.rules:
            bare, keys = bare_rule(one, to_be_bought)
            if all(relations.settled(self.book, self.build, *key) == "no" for key in keys):
                continue
            with_word, without = self.cases(0, one), self.cases(0, bare)
            fine = [lit for lit, case in zip(with_word, one.cases) if RANK[case.verdict] < RANK["will-not-work"]]
            failing = [lit for lit, case in zip(without[:-1], bare.cases) if case.verdict == "will-not-work"]
            self.cnf.add(-self.cnf.conj([self.cnf.disj(fine), self.cnf.disj(failing)]))

    # Additions, step by step --------------------------------------------------------------------------------------

    @cached_property
    def _ends(self) -> tuple[int, int, int]:
        """Return the literals of ending at worst with additions, plainly working, and not failing."""
        cnf, steps = self.cnf, self.steps
        for bought in self.bought:
            cnf.add(-cnf.var("have", 0, bought))
        cnf.add(-cnf.var("clash", 0))
        plain = cnf.true
        for step in range(steps + 1):
            if step:
                self._clashes(step)
                cnf.add(-cnf.var("clash", step))
            pending, worst = self._judge(step)
            stop = cnf.conj(-waiting for waiting, _ in pending)
            if step == 0:
                plain = cnf.conj([stop, *(-lit for rank, lit in worst if rank > 0)])
            if step < steps:
                self._advance(step, pending)
            else:
                enough = cnf.conj([stop, *(-lit for rank, lit in worst if rank > RANK["works-with-additions"])])
                not_failing = cnf.conj([stop, *(-lit for rank, lit in worst if rank == RANK["will-not-work"])])
        return enough, plain, not_failing

    @property
    def steps(self) -> int:
        """Return how many ways of adding there are at most.

        No step adds nothing. A rule that got a way asks again only after something was set, which each addition that
        sets something does once.
        """
        adding = [one for one in self.asked if any(case.alternatives for case in one.cases)]
        every = {b for one in adding for case in one.cases for way in case.alternatives for b in with_needs(self.book, way)}
        return min(len(every), len(adding) * (1 + sum(1 for b in every if self.sets[b])), 12)

    def _judge(self, step: int) -> tuple[list[tuple[int, list[frozenset[Bought]]]], list[tuple[int, int]]]:
        cnf = self.cnf
        pending, worst = [], []
        for one in self.asked:
            for literal, case in zip(self.cases(step if self.moves(one) else 0, one), one.cases):
                worst.append((RANK[case.verdict], literal))
                if case.verdict == "works-with-additions":
                    ways = [with_needs(self.book, way) for way in case.alternatives]
                    had = cnf.disj(cnf.conj(cnf.var("have", step, b) for b in way) for way in ways)
                    free = [way for way in ways if not any(blocked(self.book, self.build, b) for b in way)]
                    pending.append((cnf.conj([literal, -had]), free))
        return pending, worst

    def _advance(self, step: int, pending: list[tuple[int, list[frozenset[Bought]]]]) -> None:
        """Say what is had next: all that was, and one free way of one pending rule while there is one.

        A pending rule without a free way is a dead end: what is had stays, and the rule stays pending.
        """
        cnf, moves = self.cnf, []
        dead = cnf.disj(waiting for waiting, ways in pending if not ways)
        for n, (waiting, ways) in enumerate(pending):
            for k, way in enumerate(ways):
                move = cnf.var("move", step, n, k)
                cnf.add(-move, waiting)
                cnf.add(-move, -dead)
                moves.append((move, way))
        for n, (left, _) in enumerate(moves):
            for right, _ in moves[n + 1:]:
                cnf.add(-left, -right)
        for waiting, _ in pending:
            cnf.add(-waiting, dead, *(move for move, _ in moves))
        for bought in self.bought:
            now, then = cnf.var("have", step, bought), cnf.var("have", step + 1, bought)
            brings = [move for move, way in moves if bought in way]
            cnf.add(-now, then)
            cnf.add(-then, now, *brings)
            for move in brings:
                cnf.add(-move, then)


def slots_to_buy(made: Translation, asked: list[Instance], overall: bool) -> list[str]:
    """Return the slots whose part is still to be bought: of the whole build, of a subject those its rules read."""
    slots = set(made.build["slots"])
    if not overall:
        slots &= {slot for one in asked for slot in one.slots_read(made.book)}
    return [s for s in sorted(slots) if made.statements[s].state in ("open", "made_to_order")]


def bare_rule(one: Instance, to_be_bought: set[str]) -> tuple[Instance, set[tuple[str, frozenset[str]]]]:
    """Return a rule without the rows that rest on a word of origin over parts that are there, and those relations."""
    def word(test: Json) -> bool:
        origin = test.get("relation") in ("came_together", "made_for") and test["is"] == "yes"
        return origin and not to_be_bought & set(test["of"])

    rows = [[row for row in case.rows if not any(word(test) for test in row)] for case in one.cases]
    bare = one._replace(cases=tuple(case._replace(rows=tuple(some)) for case, some in zip(one.cases, rows)))
    return bare, {(test["relation"], frozenset(test["of"])) for test in one.tests if word(test)}
