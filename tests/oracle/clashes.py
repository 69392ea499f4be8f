"""What was told, as statements that can be taken back one by one; is a clash minimal, and what is the least to give up.

Two oracles: brute force on the weakened build, and python-sat with a selector for each statement (OptUx for every
minimal clash, RC2 for the fewest parts to give up).
"""

from __future__ import annotations

from itertools import combinations, product
from typing import Any, Callable, Iterator

from pysat.examples.optux import OptUx
from pysat.examples.rc2 import RC2
from pysat.formula import WCNF

from tests.oracle import asp, sat
from tests.oracle.brute import Brute
from tests.oracle.ground import Json, Option, statement
from tests.oracle.parts import allowed, is_said, is_told, told_set
from tests.oracle.translate import NOTHING, Translation, Unsupported

Key = tuple[Any, ...]
Fails = Callable[[Json, Json], bool]


def statements(build: Json) -> list[Key]:
    """Return everything told that narrows what can be: parts, values, relations, what is kept, nothing added."""
    keys: list[Key] = []
    for slot, said in build["slots"].items():
        entry = {"state": said} if isinstance(said, str) else said
        if {"family", "one_of", "in_hand"} & set(entry) or entry.get("state") == "none":
            keys.append(("slot", slot))
        keys += [("told", f"{slot}.{attr}") for attr, value in entry.get("told", {}).items()
                 if told_set(value) != (None, None)]
        if entry.get("keep"):
            keys.append(("keep", slot))
    keys += [("relation", n) for n, one in enumerate(build.get("relations", [])) if one.get("is") != "not_sure"]
    return keys + ([("nothing_added",)] if build.get("nothing_added") else [])


def weakened(build: Json, kept: set[Key]) -> Json:
    """Return the build in which only the statements kept are said; the same slots stay mentioned."""
    slots = {slot: _weaker(slot, said, kept) for slot, said in build["slots"].items()}
    new = {**build, "slots": slots}
    new["relations"] = [one if ("relation", n) in kept else {**one, "is": "not_sure"}
                        for n, one in enumerate(build.get("relations", []))]
    if ("nothing_added",) not in kept:
        new["nothing_added"] = False
    return new


def _weaker(slot: str, said: Any, kept: set[Key]) -> Any:
    entry = {"state": said} if isinstance(said, str) else dict(said)
    if {"family", "one_of", "in_hand"} & set(entry) and ("slot", slot) not in kept:
        entry = {k: v for k, v in entry.items() if k in ("told", "keep")} | {"state": "not_sure"}
    elif entry.get("state") == "none" and ("slot", slot) not in kept:
        entry["state"] = "maybe"
    if "told" in entry:
        entry["told"] = {attr: value if ("told", f"{slot}.{attr}") in kept else "unknown"
                         for attr, value in entry["told"].items()}
    if ("keep", slot) not in kept:
        entry.pop("keep", None)
    return entry


def named(build: Json, clash: list[Json]) -> set[Key] | None:
    """Return the statements a clash of the engine names, None where one cannot be told."""
    every = statements(build)
    found: set[Key] = set()
    for one in clash:
        if one["kind"] == "relation":
            which, *of = one["about"].split(" ")
            same = [key for key in every if key[0] == "relation"
                    and set(build["relations"][key[1]].get(which, ())) == set(of)]
            if len(same) != 1:
                return None
            found.add(same[0])
        elif one["kind"] == "nothing_added":
            found.add(("nothing_added",))
        else:
            found.add((one["kind"], one["about"]))
    return found if found <= set(every) else None


def brute_fails(cap: int) -> Fails:
    """Return what says by brute force whether the rules in question cannot be met; stops are left out."""
    def fails(book: Json, build: Json) -> bool:
        brute = Brute(book, build, cap=cap)
        return brute.decide(brute.scope.asked, True)[0] == "will-not-work"
    return fails


def sat_fails(book: Json, build: Json) -> bool:
    """Return whether python-sat finds that the rules in question cannot be met."""
    return sat.glance(book, build).verdict == "will-not-work"


def clingo_fails(book: Json, build: Json) -> bool:
    """Return whether clingo finds that the rules in question cannot be met."""
    return asp.glance(book, build) == (True, True, True)


def wrong_with_clash(book: Json, build: Json, clash: set[Key], fails: Fails) -> list[str]:
    """Return why a set of statements is no minimal clash, nothing when it is one."""
    wrong = [] if fails(book, weakened(build, clash)) else ["the statements of the clash can stand together"]
    wrong += [f"without {key} it would still fail" for key in sorted(clash, key=str)
              if fails(book, weakened(build, clash - {key}))]
    return wrong


class Whole(Translation):
    """The clauses of a build with every attribute of its parts, since any statement may be taken back."""

    def felt(self, slot: str) -> set[str]:
        """Return all attributes of a slot."""
        return set(self.kind(slot).attributes)


class Selected:
    """A build as clauses with a selector for each statement; relations, keep and sums are left to brute force."""

    def __init__(self, book: Json, build: Json) -> None:
        self.keys = statements(build)
        if {key[0] for key in self.keys} & {"relation", "keep", "nothing_added"}:
            raise Unsupported("a statement without a selector")
        self.book, self.build = book, build
        self.made = made = Whole(book, weakened(build, set()))
        tests = [test for one in made.rules for test in one.tests]
        if any(test.get("relation") == "listed_together" for test in tests) or any(
                isinstance(test.get(end), str) for test in tests for end in ("low", "high")) or any(
                test.get("on", "").startswith("sum.") for test in tests):
            raise Unsupported("a test that depends on the part as a whole")
        self.selectors = {key: made.cnf.var("said", key) for key in self.keys}
        for key in self.keys:
            if key[0] == "told":
                slot, attr = key[1].split(".")
                told = statement(book, build, slot).told
                self._narrow(self.selectors[key], slot, Option(None, {attr: told[attr]}), [attr])
            else:
                self._part(key[1])

    def _narrow(self, selector: int, slot: str, option: Option, attrs: list[str]) -> None:
        made = self.made
        if slot not in made.slots:
            return
        for attr in attrs:
            left = allowed(self.book, made.kind(slot), option, attr)
            extra = [] if is_said(self.book, option, attr) else [made.value(f"{slot}.{attr}", NOTHING)]
            absent = [] if is_told(option, attr) else [made.cnf.var("pick", slot, "absent")]
            made.cnf.add(-selector, *absent, *extra, *(made.value(f"{slot}.{attr}", v) for v in left))

    def _part(self, slot: str) -> None:
        made, said = self.made, statement(self.book, self.build, slot)
        selector = self.selectors["slot", slot]
        absent = made.cnf.var("pick", slot, "absent")
        if said.state == "none":
            made.cnf.add(-selector, absent)
            return
        made.cnf.add(-selector, -absent)
        ways = []
        for n, option in enumerate(said.options):
            own = option.told if said.state == "in_hand" else {}
            way = made.cnf.var("way", slot, n)
            ways.append(way)
            self._narrow(way, slot, Option(option.family, own), list(made.kind(slot).attributes))
        made.cnf.add(-selector, *ways)

    def _formula(self, soft: list[tuple[int, int]]) -> WCNF:
        formula, fine = WCNF(), self.made.not_failing
        for clause in [*self.made.cnf.clauses, [fine]]:
            formula.append(clause)
        for literal, weight in soft:
            formula.append([literal], weight=weight)
        return formula

    def minimal_clashes(self) -> list[set[Key]]:
        """Return every minimal set of statements that cannot be met."""
        formula = self._formula([(self.selectors[key], 1) for key in self.keys])
        with OptUx(formula, unsorted=True) as solver:
            return [{self.keys[n - 1] for n in found} for found in solver.enumerate()]

    def least_to_give_up(self) -> int | None:
        """Return the fewest parts whose every statement must be given up, None when giving up all is not enough."""
        slots = sorted({key[1].split(".")[0] for key in self.keys})
        stays = {slot: self.made.cnf.var("stays", slot) for slot in slots}
        for key in self.keys:
            self.made.cnf.add(-stays[key[1].split(".")[0]], self.selectors[key])
        with RC2(self._formula([(stays[slot], 1) for slot in slots])) as solver:
            return None if solver.compute() is None else solver.cost


def ways_to_change(book: Json, build: Json, size: int) -> Iterator[Json]:
    """Yield every way of putting other parts into just so many slots."""
    slots = [s for s in sorted(build["slots"]) if _can_change(book, build, s)]
    for group in combinations(slots, size):
        for picks in product(*(_others(book, slot) for slot in group)):
            yield dict(zip(group, picks))


def fewest_parts_to_change(book: Json, build: Json, most: int, cap: int,
                           goal: tuple[str, ...] = ("works", "works-with-additions")) -> int | None:
    """Return the fewest parts that can be changed to come to some verdicts, by trying every way."""
    for size in range(1, most + 1):
        for picks in ways_to_change(book, build, size):
            if Brute(book, changed(build, picks), cap=cap).answer().verdict in goal:
                return size
    return None


def may_be_proposed(book: Json, build: Json, most: int, cap: int) -> tuple[int | None, ...]:
    """Return how many parts the smallest proposed change may have.

    The fewest that do; or none at all where fewer already leave nothing failing, only something that cannot be told:
    there the engine asks instead of trying to change more.
    """
    fewest = fewest_parts_to_change(book, build, most, cap)
    if fewest is None or fewest == 1:
        return (fewest,)
    unsure = fewest_parts_to_change(book, build, fewest - 1, cap, ("cannot-tell",))
    return (fewest,) if unsure is None else (fewest, None)


def fewest_parts(changes: list[Json]) -> int | None:
    """Return the fewest parts among proposed changes that lead to works or works with additions; None when none does."""
    return min((len(one["parts"]) for one in changes if one["parts"] and one["verdict"] in (
        "works", "works-with-additions")), default=None)


def _can_change(book: Json, build: Json, slot: str) -> bool:
    said = build["slots"][slot]
    state = said if isinstance(said, str) else said.get("state", "told")
    keep = isinstance(said, dict) and said.get("keep")
    kind = book["kinds"][book["slots"][slot]["kind"]]
    return not keep and state not in ("open", "made_to_order") and kind["changeable"] == "whole"


def _others(book: Json, slot: str) -> list[Any]:
    kind = book["slots"][slot]["kind"]
    if book["kinds"][kind]["open_from"] == "made_to_order":
        return ["made_to_order"]
    return [{"family": f} for f, one in sorted(book["families"].items()) if one["kind"] == kind]


def changed(build: Json, picks: dict[str, Any]) -> Json:
    """Return the build with other parts; what was said of where the old ones came from goes with them."""
    relations = []
    for one in build.get("relations", []):
        which = next(iter(set(one) - {"is", "says"}))
        gone = [name for name in one[which] if name.split(".")[0] in picks]
        left = [name for name in one[which] if name not in gone]
        if not gone:
            relations.append(one)
        elif which == "came_together" and len(left) > 1 and one.get("is", "yes") == "yes":
            relations.append({**one, which: left})
    return {**build, "slots": {**build["slots"], **picks}, "relations": relations}
