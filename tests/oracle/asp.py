"""A build decided with clingo: every world with every choice as an answer set, and the additions as a guessed path.

Three programs over one description: what can be, what can be brought to a good end, what works as it stands. Each is
projected to what is chosen and what is unknown, and the verdict is read off the three sets of pairs.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import clingo

from tests.oracle import relations
from tests.oracle.asp_text import Program, quoted
from tests.oracle.ground import Json, scope
from tests.oracle.parts import is_told
from tests.oracle.translate import Translation, slots_to_buy

Atoms = frozenset[str]


class TooMany(Exception):
    """More answer sets than the cap allows."""


class Found(NamedTuple):
    """The verdict, None for a contradiction, and per open slot the families that still lead to a good end."""

    verdict: str | None
    viable: dict[str, list[str]]


class Sides(NamedTuple):
    """Which atoms are ours to set, which are given, and which are known only after a choice."""

    ours: frozenset[str]
    given: frozenset[str]
    after: frozenset[str]


def sides(made: Translation, program: Program) -> Sides:
    """Sort the atoms that tell worlds and choices apart."""
    q = quoted
    chosen = {s for s, said in made.statements.items() if said.state in ("open", "in_hand", "made_to_order")}
    ours: set[str] = set()
    given: set[str] = set()
    after: set[str] = set()
    for slot, said in made.statements.items():
        (ours if slot in chosen else given).update(f"pick({q(slot)},{q(way)})" for way, _ in made.options(slot))
        for name in (n for n in made.names if n.startswith(f"{slot}.") and not n.endswith(".fitted")):
            atoms = {f"is({q(name)},{q(v)})" for v in made.domain(name)}
            if said.state == "made_to_order":
                (given if is_told(said.options[0], name.split(".")[1]) else ours).update(atoms)
            else:
                (after if slot in chosen else given).update(atoms)
    for name in made.cnf.pool.obj2id:
        if isinstance(name, tuple) and name[0] in ("relation", "flag", "band", "sign"):
            slots = name[2] if name[0] == "relation" else {
                v.split(".")[0] for part in name[1:3] if isinstance(part, str) for v in made.inputs(part)}
            word = name[0] == "relation" and name[1] != "listed_together"
            atom = f"flag({q(name[1])},{q(name[2])})" if name[0] == "flag" else program.derived(name)
            (given if word or not chosen & set(slots) else after).add(atom)
    return Sides(frozenset(ours), frozenset(given), frozenset(after))


class Asked:
    """One description with so many steps of adding, grounded once and asked for several ends."""

    def __init__(self, program: Program, last: int) -> None:
        self.control = clingo.Control(["--project=show", "--warn=none"])
        self.control.add("base", [], program.text(last))
        self.control.ground([("base", [])])

    def _for(self, end: str, most: int) -> None:
        for one in ("enough", "plain", "not failing", "speaks"):
            self.control.assign_external(clingo.Function("ask", [clingo.String(one)]), one == end)
        self.control.configuration.solve.models = most  # type: ignore[union-attr]

    def models(self, end: str, shown: frozenset[str], cap: int) -> set[Atoms]:
        """Return the answer sets that come to an end, projected to some atoms; raises TooMany beyond the cap."""
        self._for(end, cap + 1)
        found: set[Atoms] = set()
        with self.control.solve(yield_=True) as answers:
            for model in answers:
                found.add(frozenset(str(symbol) for symbol in model.symbols(shown=True)) & shown)
        if len(found) > cap:
            raise TooMany(f"more than {cap} answer sets")
        return found

    def some(self, end: str) -> bool:
        """Return whether an answer set comes to an end."""
        self._for(end, 1)
        return bool(self.control.solve().satisfiable)


SHOW = "#show pick/2. #show rel/1. #show flag/2. #show band/2. #show sign/3. #show is(V,X) : is(V,X), read(V).\n"


def described(book: Json, build: Json, subjects: tuple[str, ...] | None,
              made: Translation | None) -> tuple[Translation, Program, list[Any]]:
    """Return a build's description, and the rules asked, those taken as right among them."""
    made = made or Translation(book, build, subjects)
    program = Program(made)
    found = scope(book, build)
    asked = [i for i in (*found.rules, *found.taken) if subjects is None or i.subject in subjects]
    program.say(SHOW, *(f"read({quoted(name)})." for name in sorted(made.names) if not name.endswith(".fitted")))
    for one in asked:
        there = ", ".join(f"not pick({quoted(slot)},{quoted('absent')})" for slot in one.needed)
        program.say(f"speaks{' :- ' if there else ''}{there}.")
    return made, program, asked


def glance(book: Json, build: Json, made: Translation | None = None) -> tuple[bool, bool, bool]:
    """Return whether a build can be at all, whether some rule speaks, and whether every world and choice fails."""
    if relations.contradict(book, build):
        return False, False, False
    made, program, _ = described(book, build, None, made)
    whole = Asked(program, made.steps)
    if not whole.some("exists"):
        return False, False, False
    return True, whole.some("speaks"), not whole.some("not failing")


def decide(book: Json, build: Json, subjects: tuple[str, ...] | None = None, cap: int = 3000,
           made: Translation | None = None) -> Found:
    """Return verdict and viable families of a build; stops are left out. Raises TooMany or Unsupported.

    `made` is its translation where that is at hand.
    """
    if relations.contradict(book, build):
        return Found(None, {})
    made, program, asked = described(book, build, subjects, made)
    split = sides(made, program)
    shown = split.ours | split.given | split.after
    bare = Asked(program, 0)
    exists = bare.models("exists", shown, cap)
    if not exists:
        return Found(None, {})
    if not asked:
        return Found("cannot-tell", {})
    plain = bare.models("plain", shown, cap)
    whole = Asked(program, made.steps) if made.steps else bare
    enough = whole.models("enough", shown, cap)
    not_failing = bool(enough) or whole.some("not failing")
    return _verdict(made, split, exists, enough, plain, not_failing, asked, subjects is None)


def _verdict(made: Translation, split: Sides, exists: set[Atoms], enough: set[Atoms], plain: set[Atoms],
             not_failing: bool, asked: list[Any], overall: bool) -> Found:
    to_buy = slots_to_buy(made, asked, overall)
    free = {f"pick({quoted(slot)},{quoted('free')})" for slot in to_buy}
    pairs: dict[tuple[Atoms, Atoms], list[Atoms]] = {}
    for whole in exists:
        pairs.setdefault((whole & split.ours, whole & split.given), []).append(whole)
    worlds = {given for _, given in pairs}
    choices = {ours for ours, _ in pairs if not ours & free}
    good_for = {ours: {given for given in worlds if (ours, given) in pairs and set(pairs[ours, given]) <= enough}
                for ours in choices}
    good = [ours for ours, some in good_for.items() if some == worlds]
    viable = {slot: sorted({option.family for way, option in made.options(slot) if option and option.family
                            and any(f"pick({quoted(slot)},{quoted(way)})" in ours for ours in good)})
              for slot, said in made.statements.items() if said.state == "open"}
    absent = [{f"pick({quoted(slot)},{quoted('absent')})" for slot in one.needed} for one in asked]
    if not any(not gone & whole for whole in exists for gone in absent):
        return Found("cannot-tell", viable)  # every rule is about a part that is not fitted
    if not not_failing:
        return Found("will-not-work", viable)
    for slot in to_buy:
        bought = f"pick({quoted(slot)},{quoted('free')})"
        if made.statements[slot].state == "open" and all(bought in whole for whole in exists):
            return Found("cannot-tell", viable)
    if good:
        works = not to_buy and any(all(whole in plain for given in worlds for whole in pairs[ours, given])
                                   for ours in good)
        return Found("works" if works else "works-with-additions", viable)
    each = bool(choices) and set().union(*good_for.values()) == worlds
    return Found("works-with-additions" if each else "cannot-tell", viable)
