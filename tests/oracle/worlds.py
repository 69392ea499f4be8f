"""Every world with every choice that some rules can tell apart, and the verdict over them."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, Any, Iterator, NamedTuple

from tests.oracle import relations
from tests.oracle.bands import Band, Interval, cut, signs, touches
from tests.oracle.ground import Instance, Json, OTHER, RANK, attribute, sum_inputs
from tests.oracle.parts import is_told, known_interval
from tests.oracle.state import (State, decide, flag_key, outcome, reachable_additions, relation_key, sign_key,
                                word_hides_failure)
from tests.oracle.sums import spread

if TYPE_CHECKING:
    from tests.oracle.brute import Brute

FAILS = RANK["will-not-work"]
ENOUGH = RANK["works-with-additions"]


class TooMany(Exception):
    """More worlds than the cap allows."""


class Choice(NamedTuple):
    """One thing we may choose for a slot: for each of the slot's unknown settings, the parts it may then be."""

    parts: tuple[tuple[State, ...], ...]


def exact_numbers(bands: list[Band], rivals: set[float]) -> list[Band]:
    """Return exact numbers to choose from: every edge, every rival's end, and three between each two of them."""
    low, high = bands[0].low, bands[-1].high
    edges = sorted({b.low for b in bands} | {b.high for b in bands} | {r for r in rivals if low < r < high})
    between = [a + (b - a) * part for a, b in zip(edges, edges[1:]) for part in (0.25, 0.5, 0.75)]
    return [Band(n, n) for n in sorted({*edges, *between}) if any(touches(b, Interval(n, n)) for b in bands)]


class Worlds:
    """The worlds and choices that some rules can tell apart."""

    def __init__(self, brute: Brute, rules: tuple[Instance, ...]) -> None:
        self.brute, self.rules = brute, rules
        book = brute.book
        self.worded = brute.worded()
        seen = (*rules, *(one for one, _ in self.worded if one not in rules))
        names = brute.read_names(rules) | {name for one in seen for name in one.reads(book)}
        self.slots = brute.slots_of(seen, names)
        chosen = [s for s in self.slots if brute.statements[s].state in ("open", "in_hand", "made_to_order")]
        tests = [test for one in seen for test in one.tests]
        self.inputs = {name: sorted(sum_inputs(book, name).values()) for t in tests
                       for name in (t.get("on"), t.get("low"), t.get("high"))
                       if isinstance(name, str) and name.startswith("sum.")}
        self.signed = sorted({sign_key(t["on"], t[end]) for t in tests for end in ("low", "high")
                              if isinstance(t.get(end), str)})
        rivals = self._rivals()
        self.exact = set(rivals)
        self.given = [brute.theirs(slot, names) for slot in self.slots if slot not in chosen]
        self.chosen = [brute.ours(slot, names, rivals) for slot in chosen]
        self.ours_slots = chosen
        self.relation_keys = sorted({relation_key(t) for t in tests if "relation" in t}, key=str)
        self.banded = sorted({t["on"] for t in tests if t.get("on", "").startswith("sum.")
                              and any(isinstance(t[end], (int, float)) for end in ("low", "high"))})
        self.flags = self._flag_pairs(tests)
        self.size = 0
        self._seen: dict[frozenset[Any], int] = {}

    def _rivals(self) -> dict[str, set[float]]:
        """Return, per number that is ours to make, the ends of everything it is compared with."""
        brute, found = self.brute, {}
        for _, *pair in self.signed:
            if all(self._to_make(name) for name in pair):
                continue
            for mine, other in (pair, pair[::-1]):
                if self._to_make(mine):
                    ends: set[float] = set()
                    names = self.inputs.get(other, [other])
                    slots = sorted({name.split(".")[0] for name in names})
                    for options in product(*([*brute.statements[s].options] for s in slots)):
                        state = {("option", s): repr(o) for s, o in zip(slots, options)}
                        ends |= set(self._interval(state, other) or ())
                    found.setdefault(mine, set()).update(ends)
        return found

    def _to_make(self, name: str) -> bool:
        """Return whether a number is ours to set: of a part made to order, and not told."""
        slot, _, attr = name.partition(".")
        said = self.brute.statements.get(slot)
        return bool(said and said.state == "made_to_order" and not is_told(said.options[0], attr))

    def _flag_pairs(self, tests: list[Json]) -> list[tuple[str, str]]:
        sources: dict[str, set[str]] = {}
        for bought in reachable_additions(self.brute.book, self.rules):
            for var, (how, source) in self.brute.shop.sets(bought).items():
                if how == "same_as":
                    sources.setdefault(var, set()).add(source)
        found = set()
        for test in tests:
            if "same_as" in test:
                for a in {test["on"]} | sources.get(test["on"], set()):
                    for b in {test["same_as"]} | sources.get(test["same_as"], set()):
                        kinds = [attribute(self.brute.book, name) for name in (a, b)]
                        if a != b and all(k and k["type"] == "identity" for k in kinds):
                            found.add(tuple(sorted((a, b))))
        return sorted(found)

    def _count(self, choices: list[list[Choice]], settings: list[int]) -> None:
        size = 1
        for states in self.given:
            size *= max(1, len(states))
        for some in choices:
            size *= max(1, sum(len(s) for choice in some for s in choice.parts))
        if size > self.brute.cap:
            raise TooMany(f"{size} worlds")

    def _extras(self, state: State, ours: bool) -> Iterator[State]:
        """Yield the settings of the yes/no variables, flags, sums and signs that depend on choices or that do not."""
        axes: list[list[tuple[Any, Any]]] = []

        def mine(names: list[str]) -> bool:
            return any(name.split(".")[0] in self.ours_slots for name in names) == ours

        for key in self.relation_keys:
            _, relation, slots = key
            if relation == "listed_together":
                if mine(list(slots)) and not all(state.get(("family", s)) for s in slots):
                    axes.append([(key, "yes"), (key, "no")])
            elif not ours:
                told = relations.settled(self.brute.book, self.brute.build, relation, slots)
                axes.append([(key, told)] if told else [(key, "yes"), (key, "no")])
        for a, b in self.flags:
            if mine([a, b]) and state[a] == OTHER and state[b] == OTHER:
                told = [how for pair, how in self.brute.told_same if set(pair) == {a, b}]
                key = flag_key(a, b)
                axes.append([(key, told[0] == "yes")] if told else [(key, True), (key, False)])
        for name in self.banded:
            if mine(self.inputs[name]):
                interval = self._interval(state, name)
                if interval is not None:
                    points = self.brute.points.get(name.partition("@")[0], [])
                    bands = cut(float("-inf"), float("inf"), points)
                    axes.append([(("band", name), b) for b in bands if touches(b, interval)])
        for key in self.signed:
            if mine([v for name in key[1:] for v in self.inputs.get(name, [name])]):
                both = all(self._to_make(name) for name in key[1:])
                left, right = (self._interval(state, name, both) for name in key[1:])
                if left is not None and right is not None:
                    axes.append([(key, sign) for sign in signs(left, right)])
        for values in product(*axes):
            yield dict(values)

    def _interval(self, state: State, name: str, vague: bool = False) -> Interval | None:
        """Return the interval of an attribute or a sum, None when a part it needs is not fitted at the outset."""
        book = self.brute.book
        if name.startswith("sum."):
            record = book["sums"][name[len("sum."):].partition("@")[0]]
            inputs = {param: self._interval(state, var) for param, var in sum_inputs(book, name).items()}
            if any(i is None for i in inputs.values()):
                return None
            return spread(record["function"], record["uncertainty"], inputs)
        slot, attr = name.split(".")
        if not vague and name in getattr(self, "exact", ()) and name in state:
            band = state[name]
            return None if band is None else Interval(band.low, band.high)
        shown = state[("option", slot)]
        options = [o for o in (*self.brute.statements[slot].options, self.brute.free_option(slot)) if repr(o) == shown]
        return known_interval(book, self.brute.kind(slot), options[0], attr) if options else None

    def _bases(self, choices: list[list[Choice]], settings: list[int]) -> Iterator[tuple[State, tuple[int, ...]]]:
        self._count(choices, settings)
        for states in product(*self.given):
            base: State = {k: v for s in states for k, v in s.items()}
            for extra in self._extras(base, ours=False):
                for which in product(*(range(n) for n in settings)):
                    yield {**base, **extra}, which

    def _whole(self, base: State, picks: tuple[Choice, ...], which: tuple[int, ...]) -> Iterator[State]:
        """Yield every whole state under one choice in one world; none when the two cannot both be."""
        for states in product(*(choice.parts[k] for choice, k in zip(picks, which))):
            state = {**base, **{k: v for s in states for k, v in s.items()}, "sets": self.brute.sets}
            if self.brute.agrees(state):
                for extra in self._extras(state, ours=True):
                    whole = {**state, **extra}
                    if not any(word_hides_failure(one, bare, whole, self.inputs, self.brute.reading)
                               for one, bare in self.worded):
                        yield whole

    def _outcome(self, state: State) -> int:
        key = frozenset((k, v) for k, v in state.items() if k != "sets" and not (isinstance(k, tuple) and k[0] == "option"))
        if key not in self._seen:
            self.size += 1
            if self.size > self.brute.cap:
                raise TooMany(f"more than {self.brute.cap} worlds")
            self._seen[key] = outcome(self.rules, state, self.brute.shop, self.inputs, self.brute.reading)
        return self._seen[key]

    def verdict(self, to_buy: list[str], can_be_had: bool) -> str:
        """Return the verdict of the rules over all worlds and choices; nothing works that cannot be had."""
        # an open slot that does not count, being read by no rule, may hold anything: it is only there because an
        # addition sets something in it, and a subject's verdict counts only open slots that its rules read
        listed = [some if slot in to_buy else some + free for slot, (some, free, _) in zip(self.ours_slots, self.chosen)]
        settings = [n for _, _, n in self.chosen]
        picks = list(product(*listed))
        always = {i: 0 for i in range(len(picks))}
        each_has_one, best = True, FAILS
        for base, which in self._bases(listed, settings):
            found = [[self._outcome(state) for state in self._whole(base, pick, which)] for pick in picks]
            if not any(found) and self._impossible(base, which, settings):
                continue
            worst = [max(some) if some else FAILS for some in found]
            best = min([best, *(rank for some in found for rank in some)])
            always = {i: max(was, worst[i]) for i, was in always.items()}
            each_has_one = each_has_one and any(rank <= ENOUGH for rank in worst)
        if best == FAILS and not self._free_can_do_better(settings):
            return "will-not-work"
        good = [worst for worst in always.values() if worst <= ENOUGH]
        if not can_be_had:
            return "cannot-tell"
        if good:
            return "works" if min(good) == 0 and not to_buy else "works-with-additions"
        return "works-with-additions" if each_has_one and picks else "cannot-tell"

    def _impossible(self, base: State, which: tuple[int, ...], settings: list[int]) -> bool:
        free = [listed + free for listed, free, _ in self.chosen]
        return not any(True for pick in product(*free) for _ in self._whole(base, pick, which))

    def _free_can_do_better(self, settings: list[int]) -> bool:
        wide = [listed + free for listed, free, _ in self.chosen]
        if not any(free for _, free, _ in self.chosen):
            return False
        return any(self._outcome(state) < FAILS for base, which in self._bases(wide, settings)
                   for pick in product(*wide) for state in self._whole(base, pick, which))

    def any(self) -> bool:
        """Return whether there is a world at all."""
        wide = [listed + free for listed, free, _ in self.chosen]
        return any(True for base, which in self._bases(wide, [n for _, _, n in self.chosen])
                   for pick in product(*wide) for _ in self._whole(base, pick, which))

    def cases(self, one: Instance) -> frozenset[str | None]:
        """Return the cases one rule can meet before anything is added; None when it is out, "nothing" when none."""
        wide = [listed + free for listed, free, _ in self.chosen]
        found: set[str | None] = set()
        for base, which in self._bases(wide, [n for _, _, n in self.chosen]):
            for pick in product(*wide):
                for state in self._whole(base, pick, which):
                    case = decide(one, state, self.inputs, self.brute.reading)
                    out = case is None and one.cases[-1].case != "holds"
                    found.add(case.case if case else None if out else "nothing")
        return frozenset(found)
