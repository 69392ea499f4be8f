"""One world with one choice, as a plain mapping, and what a test, a rule and the additions make of it."""

from __future__ import annotations

from itertools import combinations
from typing import Any, NamedTuple

from tests.oracle.bands import inside
from tests.oracle.ground import (Bought, Case, Instance, Json, OTHER, RANK, addition_sets, blocked,
                                 with_needs)

State = dict[Any, Any]
FAILS = RANK["will-not-work"]


class Reading(NamedTuple):
    """Places where the agreement can be read in more than one way; the defaults are the literal ones."""

    strict_family: bool = True      # a value on a family's sheet implies that its attribute applies
    copied_other_is_same: bool = True  # "another one" copied by an addition is the same one
    unfitted_relation: str = "no-match"   # a relation test over a part not fitted: "no-match" or "as-told"
    open_scope: str = "build"        # which open slots keep an answer from `works`: of the "build" or those "read"
    copied_nothing: str = "sets-nothing"  # a copy of what does not apply: that, or "does-not-apply"
    clash: str = "values"            # two additions differ when the "values" do, or already when "written" so
    words_bow_to_facts: bool = True  # no world in which only a word of origin saves a rule from a named failure
    dead_end: bool = True            # a pending rule without a way out fails there, whatever else could be added


def relation_key(test: Json) -> tuple[str, str, frozenset[str]]:
    """Return the one yes/no variable a relation test reads."""
    return ("relation", test["relation"], frozenset(test["of"]))


def flag_key(left: str, right: str) -> tuple[str, frozenset[str]]:
    """Return the variable saying that two attributes which are both "another one" are the same one."""
    return ("both-other", frozenset((left, right)))


def sign_key(left: str, right: str) -> tuple[str, str, str]:
    """Return the variable holding the sign of the first quantity (by name) minus the second."""
    return ("sign", *sorted((left, right)))


def value_of(state: State, name: str) -> Any:
    """Return an attribute's value, None where it does not apply or the part is not fitted."""
    slot, _, attr = name.partition(".")
    if attr == "fitted":
        return state[name]
    return state.get(name) if state[f"{slot}.fitted"] == "yes" else None


def quantity_applies(state: State, inputs: dict[str, list[str]], name: str) -> bool:
    """Return whether a quantity has a number: an attribute that applies, or a sum all of whose inputs do."""
    return all(value_of(state, var) is not None for var in inputs.get(name, [name]))


def matches(test: Json, state: State, inputs: dict[str, list[str]], reading: Reading) -> bool:
    """Return whether one grounded test matches in a state."""
    if "relation" in test:
        if reading.unfitted_relation == "no-match" and any(state[f"{s}.fitted"] == "no" for s in test["of"]):
            return False
        key = relation_key(test)
        if test["relation"] == "listed_together" and all(state.get(("family", s)) for s in test["of"]):
            together = frozenset((s, state[("family", s)]) for s in test["of"])
            return any(together <= whole for whole in state["sets"]) == (test["is"] == "yes")
        return state[key] == test["is"]
    if "in" in test:
        return value_of(state, test["on"]) in test["in"]
    if "same_as" in test:
        left, right = value_of(state, test["on"]), value_of(state, test["same_as"])
        if left is None or right is None:
            return False
        same = left == right
        if left == OTHER and right == OTHER:
            same = _both_other_same(state, test["on"], test["same_as"], reading)
        return same == test["is"]
    if not quantity_applies(state, inputs, test["on"]):
        return False
    low, high = test["low"], test["high"]
    for end, limit in (("low", low), ("high", high)):
        if isinstance(limit, str):
            if not quantity_applies(state, inputs, limit):
                return False
            sign = state[sign_key(test["on"], limit)] * (1 if test["on"] <= limit else -1)
            wanted = {1} if end == "low" else {-1}
            if sign not in wanted | (set() if test[f"{end}_open"] else {0}):
                return False
    low, high = (None if isinstance(limit, str) else limit for limit in (low, high))
    if low is None and high is None:
        return True
    band = state[("band", test["on"])] if test["on"].startswith("sum.") else value_of(state, test["on"])
    return inside(band, low, test["low_open"], high, test["high_open"])


def _both_other_same(state: State, left: str, right: str, reading: Reading) -> bool:
    if reading.copied_other_is_same:
        left, right = (state.get(("copied-from", name), name) for name in (left, right))
        if left == right:
            return True
    return state[flag_key(left, right)]


def decide(one: Instance, state: State, inputs: dict[str, list[str]], reading: Reading) -> Case | None:
    """Return the first case that matches, None when the rule is out because a part it needs is not fitted."""
    if any(state[f"{slot}.fitted"] == "no" for slot in one.needed):
        return None
    for case in one.cases:
        for row in case.rows:
            for test in row:
                if not matches(test, state, inputs, reading):
                    break
            else:
                return case
    return None


def rests_on_word(test: Json, to_be_bought: set[str]) -> bool:
    """Return whether a test rests on what somebody says of where parts came from, all of them being there already."""
    word = test.get("relation") in ("came_together", "made_for") and test["is"] == "yes"
    return word and not to_be_bought & set(test["of"])


def without_words(one: Instance, to_be_bought: set[str]) -> Instance:
    """Return a rule without the rows that rest on what was said of where parts came from."""
    return one._replace(cases=tuple(
        case._replace(rows=tuple(row for row in case.rows if not any(rests_on_word(t, to_be_bought) for t in row)))
        for case in one.cases))


def word_hides_failure(one: Instance, bare: Instance, state: State, inputs: dict[str, list[str]],
                       reading: Reading) -> bool:
    """Return whether only a word of origin saves a rule from a failure that a named case of it establishes."""
    said, plain = decide(one, state, inputs, reading), decide(bare, state, inputs, reading)
    if said is None or plain is None or plain is bare.cases[-1]:
        return False
    return RANK[plain.verdict] == FAILS > RANK[said.verdict]


class Shop:
    """What can be added for one build: sets, needs and what is blocked, worked out once per addition."""

    def __init__(self, book: Json, build: Json) -> None:
        self.book = book
        self.build = build
        self._sets: dict[Bought, dict[str, tuple[str, str]]] = {}
        self._ways: dict[tuple[Bought, ...], tuple[frozenset[Bought], bool]] = {}

    def sets(self, bought: Bought) -> dict[str, tuple[str, str]]:
        """Return what one addition sets."""
        if bought not in self._sets:
            self._sets[bought] = addition_sets(self.book, bought)
        return self._sets[bought]

    def way(self, alternative: tuple[Bought, ...]) -> tuple[frozenset[Bought], bool]:
        """Return an alternative with all it needs, and whether it may be done."""
        if alternative not in self._ways:
            whole = with_needs(self.book, alternative)
            self._ways[alternative] = (whole, not any(blocked(self.book, self.build, b) for b in whole))
        return self._ways[alternative]

    def applied(self, state: State, added: frozenset[Bought], reading: Reading) -> State | None:
        """Return the state as other rules then see it, None when two additions set one variable differently."""
        new: dict[str, Any] = {}
        origin: dict[Any, str] = {}
        written: dict[str, tuple[str, str]] = {}
        every = [(var, *how) for bought in sorted(added, key=str) for var, how in self.sets(bought).items()]
        every.sort(key=lambda one: not one[0].endswith(".fitted"))
        for var, how, source in every:
            place, _, attr = var.partition(".")
            if attr != "fitted" and {**state, **new}[f"{place}.fitted"] == "no":
                continue
            value = source if how == "to" else value_of(state, source)
            if value is None and reading.copied_nothing == "sets-nothing":
                continue
            if var in new and (new[var] != value or (reading.clash == "written" and written[var] != (how, source))):
                return None
            written[var] = (how, source)
            new[var] = value
            if how == "same_as":
                origin[("copied-from", var)] = source
        return {**state, **new, **origin}


def outcome(rules: tuple[Instance, ...], state: State, shop: Shop, inputs: dict[str, list[str]],
            reading: Reading) -> int:
    """Return the best verdict over every way the additions can end in one state."""
    start: frozenset[Bought] = frozenset()
    seen, left, best = {start}, [start], FAILS
    while left:
        added = left.pop()
        now = shop.applied(state, added, reading)
        if now is None:
            continue
        worst = RANK["works-with-additions"] if added else RANK["works"]
        ways: list[list[frozenset[Bought]]] = []
        for one in rules:
            case = decide(one, now, inputs, reading)
            if case is None:
                continue
            worst = max(worst, RANK[case.verdict])
            if case.verdict == "works-with-additions":
                all_ways = [shop.way(alternative) for alternative in case.alternatives]
                if not any(whole <= added for whole, _ in all_ways):
                    ways.append([whole for whole, free in all_ways if free])
        if not ways:
            best = min(best, worst)
            if best == RANK["works"]:
                break
        elif reading.dead_end and not all(ways):
            continue
        for whole in (whole for some in ways for whole in some):
            if added | whole not in seen:
                seen.add(added | whole)
                left.append(added | whole)
    return best


def families_in_sets(book: Json) -> list[frozenset[tuple[str, str]]]:
    """Return each set record as the (slot, family) pairs it lists."""
    return [frozenset((slot, family) for slot, some in record["families"].items() for family in some)
            for record in book["sets"].values()]


def pairs(names: list[str]) -> list[tuple[str, str]]:
    """Return every unordered pair of names."""
    return list(combinations(sorted(set(names)), 2))


def reachable_additions(book: Json, rules: tuple[Instance, ...]) -> set[Bought]:
    """Return every addition that some case of these rules, or a need of one, may bring."""
    return {bought for one in rules for case in one.cases for alternative in case.alternatives
            for bought in with_needs(book, alternative)}
