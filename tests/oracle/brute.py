"""Brute force: every world with every choice, straight from the agreed meaning, for books small enough."""

from __future__ import annotations

from itertools import product
from typing import Any, NamedTuple

from tests.oracle import relations
from tests.oracle.bands import constants
from tests.oracle.ground import Instance, Json, OTHER, Option, Scope, scope, spoken_of, statement
from tests.oracle.parts import Kind, Part, all_kinds, allowed, is_told, parts
from tests.oracle.state import Reading, Shop, State, families_in_sets, reachable_additions, relation_key, rests_on_word, without_words
from tests.oracle.worlds import Choice, TooMany, Worlds, exact_numbers

__all__ = ["Brute", "TooMany", "Verdict", "brute_force", "without_assumed"]


class Verdict(NamedTuple):
    """What brute force finds."""

    verdict: str | None
    refused: bool
    contradiction: bool
    subjects: dict[str, str]
    certain: frozenset[tuple[str, str | None]]
    possible: frozenset[tuple[str, str | None]]
    cases: dict[tuple[str, str | None], frozenset[str | None]]
    without_assumed: str | None
    worlds: int


class Brute:
    """A book and a build with all that is needed to walk through their worlds."""

    def __init__(self, book: Json, build: Json, reading: Reading = Reading(), cap: int = 20_000) -> None:
        self.book, self.build, self.reading, self.cap = book, build, reading, cap
        self.scope: Scope = scope(book, build)
        self.points = constants(book)
        self.kinds = all_kinds(book)
        self.statements = {slot: statement(book, build, slot) for slot in book["slots"]}
        self.shop = Shop(book, build)
        self.sets = families_in_sets(book)
        self.told_same = [(tuple(sorted(pair)), how) for pair, how in relations.said(build, "same")]
        self._parts: dict[tuple[str, str], list[Part]] = {}

    def kind(self, slot: str) -> Kind:
        """Return the kind of a slot's part."""
        return self.kinds[self.book["slots"][slot]["kind"]]

    def all_parts(self, slot: str, option: Option) -> list[Part]:
        """Return every part an option of a slot may be."""
        key = (slot, repr(option))
        if key not in self._parts:
            self._parts[key] = list(parts(self.book, self.kind(slot), option, self.reading.strict_family))
        return self._parts[key]

    def free_option(self, slot: str) -> Option:
        """Return the unlisted part of which only what was told is known."""
        return Option(None, self.statements[slot].told)

    # What exists at all -------------------------------------------------------------------------------------------

    def consistent(self) -> bool:
        """Return whether what was said can all be true, open parts being whatever they need to be."""
        if relations.contradict(self.book, self.build):
            return False
        joint = sorted({name.split(".")[0] for pair, _ in self.told_same for name in pair})
        for slot in self.build.get("slots", {}):
            if slot not in joint and not self._any_part(slot):
                return False
        every = [[self._state(slot, o, p) for o in self._options(slot) for p in self.all_parts(slot, o)]
                 + ([self._absent(slot)] if self.statements[slot].state in ("maybe", "none") else []) for slot in joint]
        names = {name for pair, _ in self.told_same for name in pair}
        every = [self._distinct(states, names) for states in every]
        return any(self.agrees({k: v for s in states for k, v in s.items()}) for states in product(*every))

    def _options(self, slot: str) -> tuple[Option, ...]:
        said = self.statements[slot]
        return (self.free_option(slot),) if said.state == "open" else said.options

    def _any_part(self, slot: str) -> bool:
        said = self.statements[slot]
        return said.state in ("maybe", "none") or any(self.all_parts(slot, option) for option in self._options(slot))

    def agrees(self, state: State) -> bool:
        for (left, right), how in self.told_same:
            a, b = state.get(left), state.get(right)
            if a is None or b is None or (a == b == OTHER):
                continue
            if (a == b) != (how == "yes"):
                return False
        return True

    # One slot -----------------------------------------------------------------------------------------------------

    def _state(self, slot: str, option: Option, part: Part) -> State:
        state: State = {f"{slot}.{attr}": value for attr, value in part.items()}
        state[f"{slot}.fitted"] = "yes"
        state[("family", slot)] = option.family
        state[("option", slot)] = repr(option)
        return state

    def _absent(self, slot: str) -> State:
        state: State = {f"{slot}.{attr}": None for attr in self.kind(slot).attributes}
        return {**state, f"{slot}.fitted": "no", ("family", slot): None, ("option", slot): "absent"}

    def _distinct(self, states: list[State], names: set[str]) -> list[State]:
        """Return the states that differ in what is read, each cut down to that."""
        kept: dict[frozenset[Any], State] = {}
        for state in states:
            small = {k: v for k, v in state.items() if not isinstance(k, str) or k in names or k.endswith(".fitted")}
            kept.setdefault(frozenset(small.items()), small)
        return list(kept.values())

    # All worlds ---------------------------------------------------------------------------------------------------

    def read_names(self, rules: tuple[Instance, ...]) -> set[str]:
        """Return every attribute that these rules, their additions and the told sameness can look at."""
        names = {name for one in rules for name in one.reads(self.book)}
        names |= {name for pair, _ in self.told_same for name in pair}
        for bought in reachable_additions(self.book, rules):
            for var, (how, source) in self.shop.sets(bought).items():
                names |= {var, source} if how == "same_as" else {var}
        return names

    def slots_of(self, rules: tuple[Instance, ...], names: set[str]) -> list[str]:
        """Return the slots that take part, in order."""
        found = {name.split(".")[0] for name in names}
        return sorted(found.union(*(one.slots_read(self.book) for one in rules)))

    def worded(self) -> list[tuple[Instance, Instance]]:
        """Return the rules that a word of origin may save, each with itself without such rows."""
        if not self.reading.words_bow_to_facts:
            return []
        to_be_bought = {s for s, said in self.statements.items() if said.state in ("open", "made_to_order")}
        found = []
        for one in self.scope.rules:
            bare = without_words(one, to_be_bought)
            keys = {relation_key(test)[1:] for test in one.tests if rests_on_word(test, to_be_bought)}
            if any(relations.settled(self.book, self.build, *key) != "no" for key in keys):
                found.append((one, bare))
        return found

    def worlds(self, rules: tuple[Instance, ...]) -> Worlds:
        """Return everything that must be walked through for these rules."""
        return Worlds(self, rules)

    def ours(self, slot: str, names: set[str], rivals: dict[str, set[float]]) -> tuple[list[Choice], list[Choice], int]:
        """Return a slot's listed choices, its freely specified ones, and how many unknown settings they answer to."""
        said = self.statements[slot]
        if said.state == "made_to_order":
            choices, settings = self._made_to_order(slot, said.options[0], names, rivals)
            return choices, [], settings
        listed = []
        for option in said.options:
            states = self._distinct([self._state(slot, option, p) for p in self.all_parts(slot, option)], names)
            if states:
                listed.append(Choice((tuple(states),)))
        free: list[Choice] = []
        if said.state == "open":
            option = self.free_option(slot)
            whole = self._distinct([self._state(slot, option, p) for p in self.all_parts(slot, option)], names)
            free = [Choice(((state,),)) for state in whole]
        return listed, free, 1

    def _made_to_order(self, slot: str, option: Option, names: set[str],
                       rivals: dict[str, set[float]]) -> tuple[list[Choice], int]:
        kind = self.kind(slot)
        unknown = [attr for attr in kind.attributes if is_told(option, attr)]
        settings = [dict(zip(unknown, values)) for values in
                    product(*(allowed(self.book, kind, option, attr) for attr in unknown))]
        chosen = [attr for attr in kind.attributes if attr not in unknown]
        seen: dict[Any, Choice] = {}
        domains = [exact_numbers(kind.domains[attr], rivals[name]) if (name := f"{slot}.{attr}") in rivals
                   else kind.domains[attr] for attr in chosen]
        for values in product(*domains):
            wish = dict(zip(chosen, values))
            made = tuple(self._made(slot, kind, option, {**wish, **setting}, names) for setting in settings)
            seen.setdefault(tuple(frozenset(s[0].items()) if s else None for s in made), Choice(made))
        return list(seen.values()), len(settings)

    def _made(self, slot: str, kind: Kind, option: Option, wish: Part, names: set[str]) -> tuple[State, ...]:
        part: Part = {}
        for attr in kind.attributes:
            part[attr] = wish[attr] if kind.applies(attr, part) else None
            if part[attr] is None and is_told(option, attr):
                return ()
        if not kind.possible(part):
            return ()
        return tuple(self._distinct([self._state(slot, option, part)], names))

    def theirs(self, slot: str, names: set[str]) -> list[State]:
        """Return the ways a slot that is not ours to choose may turn out."""
        said = self.statements[slot]
        states = [self._state(slot, option, p) for option in said.options for p in self.all_parts(slot, option)]
        if said.state in ("maybe", "none"):
            states.append(self._absent(slot))
        return self._distinct(states, names)

    # The answer ---------------------------------------------------------------------------------------------------

    def decide(self, subjects: tuple[str, ...], overall: bool) -> tuple[str, int]:
        """Return the verdict of the rules of some subjects and the number of worlds looked at."""
        rules = tuple(i for i in self.scope.rules if i.subject in subjects)
        taken = tuple(i for i in self.scope.taken if i.subject in subjects)
        if not rules and not taken:
            return "cannot-tell", 0
        worlds = self.worlds(rules)
        to_buy = self.open_slots((*rules, *taken), overall)
        verdict = worlds.verdict(to_buy, all(self._listed(slot) for slot in to_buy))
        if not any(self._speaks(one) for one in (*rules, *taken)):
            verdict = "cannot-tell"  # every rule is about a part that is not fitted, so nothing was looked at
        return verdict, worlds.size

    def _speaks(self, one: Instance) -> bool:
        """Return whether a rule comes to a case in some world."""
        return any(case is not None for case in self.worlds((one,)).cases(one))

    def open_slots(self, rules: tuple[Instance, ...], overall: bool) -> list[str]:
        """Return the slots whose part is still to be bought: of the whole build, of a subject those of its rules."""
        slots = set(self.build["slots"])
        if self.reading.open_scope == "read" or not overall:
            slots &= {slot for one in rules for slot in one.slots_read(self.book)}
        return [slot for slot in sorted(slots) if self.statements[slot].state in ("open", "made_to_order")]

    def _listed(self, slot: str) -> bool:
        """Return whether a part that can be had meets what was told of a slot to buy for."""
        said = self.statements[slot]
        return any(self.all_parts(slot, option) for option in said.options)

    def answer(self) -> Verdict:
        """Return everything brute force can say of the build; raises TooMany beyond the cap."""
        if not self.consistent() or (self.worded() and not self.worlds(()).any()):
            return Verdict(None, False, True, {}, frozenset(), frozenset(), {}, None, 0)
        certain, possible = self._stops()
        refused = any(self.book["stops"][stop]["effect"] == "refuse" for stop, _ in certain)
        verdict, size = self.decide(self.scope.asked, True)
        subjects = {subject: self.decide((subject,), False)[0] for subject in self.scope.asked}
        cases = {(i.id, i.slot): self.worlds((i,)).cases(i) for i in self.scope.rules}
        doubtful = without_assumed(self.build)
        again = None if doubtful == self.build else Brute(self.book, doubtful, self.reading, self.cap).answer().verdict
        return Verdict("will-not-work" if refused else verdict, refused, False, subjects, certain, possible, cases,
                       again, size)

    def _stops(self) -> tuple[frozenset[tuple[str, str | None]], frozenset[tuple[str, str | None]]]:
        certain, possible = set(), set()
        for one in self.scope.stops:
            found = self.worlds((one,)).cases(one)
            if "holds" not in found:
                continue
            if None not in found and "nothing" not in found:
                certain.add((one.id, one.slot))
            elif self.book["stops"][one.id]["effect"] == "hold" or spoken_of(self.book, self.build, self.scope, one):
                possible.add((one.id, one.slot))
        return frozenset(certain), frozenset(possible)


def without_assumed(build: Json) -> Json:
    """Return the build with everything assumed, or known by word of mouth only, said unknown."""
    def told(values: Json) -> Json:
        return {a: "unknown" if isinstance(v, dict) and v.get("assumed") else v for a, v in values.items()}

    def slot(said: Any) -> Any:
        if isinstance(said, str):
            return said
        new = {**said, "told": told(said["told"])} if "told" in said else dict(said)
        if "in_hand" in said:
            new["in_hand"] = [{**one, "told": told(one["told"])} if "told" in one else one for one in said["in_hand"]]
        return new

    new = {**build, "slots": {name: slot(said) for name, said in build["slots"].items()}}
    if "relations" in build:
        new["relations"] = [{**one, "is": "not_sure"} if one.get("says") == "customer" else one
                            for one in build["relations"]]
    if "taken_as_right" in build:
        new["taken_as_right"] = []
    return new


def brute_force(book: Json, build: Json, reading: Reading = Reading(), cap: int = 20_000) -> Verdict:
    """Return the verdict of a build by walking through every world and choice."""
    return Brute(book, build, reading, cap).answer()
