"""The parts of one build as clauses: what can be in each slot, what was said of two at once, and what follows.

Written from the agreed meaning, apart from the engine and apart from brute force: nothing here walks through worlds.
"""

from __future__ import annotations

from itertools import product
from typing import Any

from tests.oracle import relations
from tests.oracle.bands import Interval, constants, cut, signs, touches
from tests.oracle.cnf import Cnf
from tests.oracle.ground import Json, OTHER, Option, addition_sets, scope, statement, sum_inputs, with_needs
from tests.oracle.parts import Kind, all_kinds, allowed, is_said, is_told, known_interval
from tests.oracle.sums import spread

NOTHING = "does not apply"


class Unsupported(Exception):
    """The build uses something that this translation leaves to brute force."""


class Parts:
    """The clauses of what can be in the slots of a build, and of what follows from what is picked."""

    def __init__(self, book: Json, build: Json, subjects: tuple[str, ...] | None = None, stops: bool = False) -> None:
        self.book, self.build, self.cnf = book, build, Cnf()
        self.scope = scope(book, build)
        self.asked = tuple(i for i in self.scope.rules if subjects is None or i.subject in subjects)
        self.rules = self.scope.rules
        self.stops = self.scope.stops if stops else ()
        self.points = constants(book)
        self.kinds = all_kinds(book)
        self.bought = sorted({b for one in self.rules for case in one.cases for way in case.alternatives
                              for b in with_needs(book, way)}, key=str)
        self.sets = {b: addition_sets(book, b) for b in self.bought}
        self.names = self._names()
        self.slots = sorted({name.split(".")[0] for name in self.names}.union(
            *(one.slots_read(book) for one in (*self.rules, *self.stops)), build["slots"]))
        self.statements = {slot: statement(book, build, slot) for slot in self.slots}
        self._numbers_to_make()
        for slot in self.slots:
            self._slot(slot)
        self._same()
        self._derived()

    # What there is ------------------------------------------------------------------------------------------------

    def _names(self) -> set[str]:
        names = {name for one in (*self.rules, *self.stops) for name in one.reads(self.book)}
        for sets in self.sets.values():
            for var, (how, source) in sets.items():
                names |= {var, source} if how == "same_as" else {var}
        for one in self.build.get("relations", []):
            names |= set(one.get("same", ()))
        return names

    def _numbers_to_make(self) -> None:
        for slot, said in self.statements.items():
            if said.state == "made_to_order":
                compared = {name for one in (*self.rules, *self.stops) for test in one.tests for end in ("low", "high")
                            if isinstance(test.get(end), str) for name in (test["on"], test[end])}
                banded = {test["on"] for one in (*self.rules, *self.stops) for test in one.tests if "low" in test}
                if any(name.startswith(("sum.", f"{slot}.")) for name in compared) or any(
                        name.startswith("sum.") and any(v.startswith(f"{slot}.") for v in self.inputs(name))
                        for name in banded):
                    raise Unsupported("a number to be made is compared with another quantity")
                if any(not is_told(said.options[0], attr) or isinstance(value, list)
                       for attr, value in said.told.items()):
                    raise Unsupported("a part to be made of which something is told vaguely")

    def kind(self, slot: str) -> Kind:
        """Return the kind of a slot's part."""
        return self.kinds[self.book["slots"][slot]["kind"]]

    def options(self, slot: str) -> list[tuple[str, Option | None]]:
        """Return the ways a slot can be filled: listed or told options, a free one, or absent."""
        said = self.statements[slot]
        found: list[tuple[str, Option | None]] = [(f"option {n}", o) for n, o in enumerate(said.options)]
        if said.state == "open":
            found.append(("free", Option(None, said.told)))
        if said.state in ("maybe", "none"):
            found.append(("absent", None))
        return found

    def value(self, name: str, value: Any) -> int:
        """Return the literal of an attribute (or `slot.fitted`) having a value at the outset."""
        if name.endswith(".fitted"):
            absent = self.cnf.var("pick", name.split(".")[0], "absent")
            return absent if value == "no" else -absent
        return self.cnf.var("is", name, value)

    def domain(self, name: str) -> list[Any]:
        """Return the whole domain of an attribute, NOTHING included."""
        slot, attr = name.split(".")
        return ["yes", "no"] if attr == "fitted" else [*self.kind(slot).domains[attr], NOTHING]

    def _slot(self, slot: str) -> None:
        cnf, kind, options = self.cnf, self.kind(slot), self.options(slot)
        absent = cnf.var("pick", slot, "absent")
        cnf.exactly_one([cnf.var("pick", slot, way) for way, _ in options])
        if not any(way == "absent" for way, _ in options):
            cnf.add(-absent)
        felt = self.felt(slot)
        for attr, one in kind.attributes.items():
            name = f"{slot}.{attr}"
            needs = [cnf.disj(self.value(f"{slot}.{parent}", v) for v in values)
                     for parent, values in (one["applies_when"] or {}).items()]
            if attr not in felt:
                for way, option in options:
                    if option is not None and is_said(self.book, option, attr):
                        here = cnf.conj(needs) if allowed(self.book, kind, option, attr) else -cnf.true
                        cnf.add(-cnf.var("pick", slot, way), here)
                continue
            cnf.exactly_one([self.value(name, v) for v in self.domain(name)])
            applies = cnf.conj([-absent, *needs])
            cnf.add(-applies, -self.value(name, NOTHING))
            cnf.add(applies, self.value(name, NOTHING))
            for way, option in options:
                if option is not None:
                    left = allowed(self.book, kind, option, attr)
                    extra = [] if is_said(self.book, option, attr) else [self.value(name, NOTHING)]
                    cnf.add(-cnf.var("pick", slot, way), *(self.value(name, v) for v in left), *extra)
        for box in kind.never:
            cnf.add(*(-cnf.disj(self.value(f"{slot}.{a}", v) for v in values) for a, values in box.items()))

    def felt(self, slot: str) -> set[str]:
        """Return the attributes of a slot that something looks at; of the others only matters whether they can be."""
        kind = self.kind(slot)
        found = {name.split(".")[1] for name in self.names if name.startswith(f"{slot}.")} | {
            a for box in kind.never for a in box} | {a for one in kind.attributes.values()
                                                     for a in one["applies_when"] or {}}
        return found & set(kind.attributes)

    def _same(self) -> None:
        for pair, how in relations.said(self.build, "same"):
            left, right = sorted(pair)
            if not {left.split(".")[0], right.split(".")[0]} <= set(self.slots):
                continue
            for a, b in product(self.domain(left)[:-1], self.domain(right)[:-1]):
                if not a == b == OTHER and (a == b) != (how == "yes"):
                    self.cnf.add(-self.value(left, a), -self.value(right, b))
            flag = self.flag(left, right)
            self.cnf.add(flag if how == "yes" else -flag)

    def flag(self, left: str, right: str) -> int:
        """Return the literal saying that two attributes which are both another one are the same one."""
        return self.cnf.true if left == right else self.cnf.var("flag", *sorted((left, right)))

    # What follows from what is picked -----------------------------------------------------------------------------

    def _derived(self) -> None:
        tests = [test for one in (*self.rules, *self.stops) for test in one.tests]
        for test in tests:
            if "relation" in test:
                self._relation(test["relation"], frozenset(test["of"]))
            elif "low" in test:
                ends = [test[end] for end in ("low", "high")]
                if test["on"].startswith("sum.") and any(isinstance(end, (int, float)) for end in ends):
                    bands = cut(float("-inf"), float("inf"), self.points.get(test["on"].partition("@")[0], []))
                    self._spread(("band", test["on"]), bands, [test["on"]],
                                 lambda spans, bands=bands: [b for b in bands if touches(b, spans[0])])
                for end in ends:
                    if isinstance(end, str):
                        pair = sorted((test["on"], end))
                        self._spread(("sign", *pair), [-1, 0, 1], pair, lambda spans: signs(*spans))

    def _relation(self, relation: str, slots: frozenset[str]) -> None:
        if self.cnf.known("relation", relation, slots):
            return
        literal = self.cnf.var("relation", relation, slots)
        if relation != "listed_together":
            told = relations.settled(self.book, self.build, relation, slots)
            if told:
                self.cnf.add(literal if told == "yes" else -literal)
            return
        order = sorted(slots)
        listed = [frozenset((s, f) for s, some in one["families"].items() for f in some)
                  for one in self.book["sets"].values()]
        for picks in product(*(self.options(slot) for slot in order)):
            families = [option and option.family for _, option in picks]
            if all(families):
                yes = any(frozenset(zip(order, families)) <= whole for whole in listed)
                picked = [-self.cnf.var("pick", slot, way) for slot, (way, _) in zip(order, picks)]
                self.cnf.add(*picked, literal if yes else -literal)

    def _spread(self, key: tuple[Any, ...], values: list[Any], names: list[str], possible: Any) -> None:
        """Say which values a derived quantity can have, for each way of picking the parts it is made from."""
        if self.cnf.known(*key, values[0]):
            return
        self.cnf.exactly_one([self.cnf.var(*key, v) for v in values])
        slots = sorted({v.split(".")[0] for name in names for v in self.inputs(name)})
        for picks in product(*(self.options(slot) for slot in slots)):
            taken = {slot: option for slot, (_, option) in zip(slots, picks)}
            spans = [self.interval(name, taken) for name in names]
            if all(spans):
                picked = [-self.cnf.var("pick", slot, way) for slot, (way, _) in zip(slots, picks)]
                self.cnf.add(*picked, *(self.cnf.var(*key, v) for v in possible(spans)))

    def inputs(self, name: str) -> list[str]:
        """Return the attributes behind a quantity."""
        return sorted(sum_inputs(self.book, name).values()) if name.startswith("sum.") else [name]

    def interval(self, name: str, taken: dict[str, Option | None]) -> Interval | None:
        """Return the interval of a quantity for the parts taken, None when one is absent or cannot be so."""
        if not name.startswith("sum."):
            slot, attr = name.split(".")
            option = taken[slot]
            return None if option is None else known_interval(self.book, self.kind(slot), option, attr)
        record = self.book["sums"][name[len("sum."):].partition("@")[0]]
        spans = {param: self.interval(var, taken) for param, var in sum_inputs(self.book, name).items()}
        if not all(spans.values()):
            return None
        return spread(record["function"], record["uncertainty"], spans)
