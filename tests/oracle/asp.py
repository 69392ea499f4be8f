"""A build decided with clingo: every world with every choice as an answer set, and the additions as a guessed path.

Three programs over one description: what can be, what can be brought to a good end, what works as it stands. Each is
projected to what is chosen and what is unknown, and the verdict is read off the three sets of pairs.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import clingo

from tests.oracle import relations
from tests.oracle.ground import Bought, Json, OTHER, RANK, blocked, scope, with_needs
from tests.oracle.parts import allowed, is_said, is_told
from tests.oracle.translate import NOTHING, Translation, bare_rule, slots_to_buy

Atoms = frozenset[str]


class TooMany(Exception):
    """More answer sets than the cap allows."""


class Found(NamedTuple):
    """The verdict, None for a contradiction, and per open slot the families that still lead to a good end."""

    verdict: str | None
    viable: dict[str, list[str]]


PATH = """
{ move(T,R,W) : way(R,W), free(R,W) } = 1 :- pending(T), not dead(T), step(T), T < last.
:- move(T,R,_), not pends(T,R).
pends(T,R) :- comes(T,R,C), adds(R,C), not had(T,R,C), asked(R).
pending(T) :- pends(T,_).
dead(T) :- pends(T,R), comes(T,R,C), not freecase(R,C).
had(T,R,C) :- step(T), brings(R,C,W), #count { B : in(W,B), have(T,B) } = N, size(W,N).
:- move(T,R,W), comes(T,R,C), not brings(R,C,W).
have(T+1,B) :- have(T,B), T < last.
have(T+1,B) :- move(T,R,W), in(W,B).
acts(T,B,V) :- have(T,B), sets(B,V), fits(V,_).
acts(T,B,V) :- have(T,B), sets(B,V), place(V,S), fit(T,S).
clash(T) :- acts(T,B,V), acts(T,D,V), B < D, brought(B,V,X), brought(D,V,Y), X != Y.
at(T,V,X) :- acts(T,B,V), brought(B,V,X).
over(T,V) :- at(T,V,_).
now(T,V,X) :- at(T,V,X).
now(T,V,X) :- is(V,X), step(T), not over(T,V).
worst(T,K) :- comes(T,R,C), rank(R,C,K), asked(R).
fit(T,S) :- now(T,V,"yes"), fits(V,S).
"""
ENDS = {
    "exists": "",
    "enough": ":- pending(last).\n:- clash(T).\n:- worst(last,2).\n:- worst(last,3).\n",
    "plain": ":- pending(0).\n:- worst(0,1).\n:- worst(0,2).\n:- worst(0,3).\n",
    "not failing": ":- pending(last).\n:- clash(T).\n:- worst(last,3).\n",
}


def quoted(value: Any) -> str:
    """Return any value as a text constant."""
    text = str(value).replace("\\", "\\\\").replace('"', "'")
    return f'"{text}"'


class Program:
    """The text of a build's description."""

    def __init__(self, made: Translation) -> None:
        self.made = made
        self.lines: list[str] = []
        self.shown: set[str] = set()
        for slot in made.slots:
            self._slot(slot)
        self._same()
        self._derived()
        self._rules()
        self._additions()

    def say(self, *lines: str) -> None:
        """Add lines."""
        self.lines += lines

    def _slot(self, slot: str) -> None:
        made, q = self.made, quoted
        kind = made.kind(slot)
        ways = " ; ".join(f"pick({q(slot)},{q(way)})" for way, _ in made.options(slot))
        self.say(f"1 {{ {ways} }} 1.", f'is({q(slot + ".fitted")},"yes") :- not pick({q(slot)},"absent").',
                 f'is({q(slot + ".fitted")},"no") :- pick({q(slot)},"absent").',
                 f"fits({q(slot + '.fitted')},{q(slot)}).")
        for attr, one in kind.attributes.items():
            name = f"{slot}.{attr}"
            needs = "".join(f", {self.one_of(f'{slot}.{parent}', values)}"
                            for parent, values in (one["applies_when"] or {}).items())
            self.say(f'applies({q(name)}) :- not pick({q(slot)},"absent"){needs}.')
            values = " ; ".join(f"is({q(name)},{q(v)})" for v in kind.domains[attr])
            self.say(f"1 {{ {values} }} 1 :- applies({q(name)}).",
                     f"is({q(name)},{q(NOTHING)}) :- not applies({q(name)}).")
            for way, option in made.options(slot):
                if option is not None:
                    left = made_allowed(made, slot, attr, option)
                    for value in kind.domains[attr]:
                        if value not in left:
                            self.say(f":- pick({q(slot)},{q(way)}), is({q(name)},{q(value)}).")
                    if is_said(made.book, option, attr):
                        self.say(f":- pick({q(slot)},{q(way)}), is({q(name)},{q(NOTHING)}).")
        for box in kind.never:
            self.say(":- " + ", ".join(self.one_of(f"{slot}.{a}", values) for a, values in box.items()) + ".")

    def one_of(self, name: str, values: list[Any], atom: str = "is(") -> str:
        """Return the body of an attribute having one of some values."""
        atoms = " ; ".join(f"{atom}{quoted(name)},{quoted(value)})" for value in values)
        return f"1 {{ {atoms} }}" if values else "1 = 0"

    def _same(self) -> None:
        q = quoted
        for pair, how in relations.said(self.made.build, "same"):
            left, right = sorted(pair)
            differ = f"is({q(left)},A), is({q(right)},B), A != {q(NOTHING)}, B != {q(NOTHING)}"
            if how == "yes":
                self.say(f":- {differ}, A != B.", f"flag({q(left)},{q(right)}).")
            else:
                self.say(f":- {differ}, A == B, A != {q(OTHER)}.", f":- flag({q(left)},{q(right)}).")

    def _derived(self) -> None:
        """Guess relations, flags, bands and signs; what is picked narrows bands, signs and listed sets."""
        made, q = self.made, quoted
        for name, literal in list(made.cnf.pool.obj2id.items()):
            if isinstance(name, tuple) and name[0] == "relation":
                self.say(f"{{ {self.relation(name[1], name[2])} }}.")
                told = None if name[1] == "listed_together" else relations.settled(made.book, made.build, name[1],
                                                                                   name[2])
                if told:
                    self.say(f":- {'not ' if told == 'yes' else ''}{self.relation(name[1], name[2])}.")
            elif isinstance(name, tuple) and name[0] == "flag":
                self.say(f"{{ flag({q(name[1])},{q(name[2])}) }}.")
        groups: dict[tuple[Any, ...], list[str]] = {}
        for name in made.cnf.pool.obj2id:
            if isinstance(name, tuple) and name[0] in ("band", "sign"):
                groups.setdefault(name[:-1], []).append(self.derived(name))
        for some in groups.values():
            self.say(f"1 {{ {' ; '.join(some)} }} 1.")
        self._narrowed()

    def _narrowed(self) -> None:
        """Carry over the clauses that speak of picks and derived quantities only: they are data, not search."""
        made = self.made
        known = {literal: name for name, literal in made.cnf.pool.obj2id.items() if isinstance(name, tuple)}
        for clause in made.cnf.clauses[:made.worlds_only]:
            names = [known.get(abs(lit), ("?",)) for lit in clause]
            sorts = {name[0] for name in names}
            if sorts <= {"pick", "band", "sign", "relation"} and sorts & {"band", "sign", "relation"} and "pick" in sorts:
                body = [("not " if lit > 0 else "") + self.derived(name) for lit, name in zip(clause, names)]
                self.say(f":- {', '.join(body)}.")

    def relation(self, relation: str, slots: frozenset[str]) -> str:
        """Return the atom of a relation."""
        return f"rel({quoted(relation + ' ' + ' '.join(sorted(slots)))})"

    def derived(self, name: tuple[Any, ...]) -> str:
        """Return the atom of a pick, a relation, a band or a sign."""
        if name[0] == "relation":
            return self.relation(name[1], name[2])
        return f"{name[0]}({','.join(quoted(part) for part in name[1:])})"

    # Rules --------------------------------------------------------------------------------------------------------

    def _rules(self) -> None:
        made, q = self.made, quoted
        for n, one in enumerate(made.rules):
            rule = f"r{n}"
            if one in made.asked:
                self.say(f"asked({rule}).")
            there = "".join(f", fit(T,{q(slot)})" for slot in one.needed)
            for k, case in enumerate(one.cases):
                for row in case.rows:
                    body = "".join(f", {self.test(test)}" for test in row)
                    self.say(f"fires(T,{rule},{k}) :- step(T){there}{body}.")
                self.say(f"rank({rule},{k},{RANK[case.verdict]}).")
                if case.verdict == "works-with-additions":
                    self.say(f"adds({rule},{k}).")
                for w, way in enumerate(case.alternatives):
                    self._way(rule, k, f"w{n}_{k}_{w}", with_needs(made.book, way))
            self._word(one, rule)
        self.say("comes(T,R,C) :- fires(T,R,C), #min { D : fires(T,R,D) } = C.")

    def _way(self, rule: str, case: int, way: str, whole: frozenset[Bought]) -> None:
        made = self.made
        self.say(f"brings({rule},{case},{way}). way({rule},{way}). size({way},{len(whole)}).")
        self.say(*(f"in({way},{self.bought(b)})." for b in sorted(whole, key=str)))
        if not any(blocked(made.book, made.build, b) for b in whole):
            self.say(f"free({rule},{way}). freecase({rule},{case}).")

    def bought(self, bought: Bought) -> str:
        """Return the constant of one addition."""
        return f"b{self.made.bought.index(bought)}"

    def _word(self, one: Any, rule: str) -> None:
        """A word of origin alone does not hide a failure that a case of the rule establishes."""
        made = self.made
        to_be_bought = {s for s, said in made.statements.items() if said.state in ("open", "made_to_order")}
        bare, keys = bare_rule(one, to_be_bought)
        if all(relations.settled(made.book, made.build, *key) == "no" for key in keys):
            return
        there = "".join(f", fit(0,{quoted(slot)})" for slot in one.needed)
        for k, case in enumerate(bare.cases):
            for row in case.rows:
                body = "".join(f", {self.test(test).replace('(T,', '(0,')}" for test in row)
                self.say(f"bare({rule},{k}) :- step(0){there}{body}.")
        failing = [k for k, case in enumerate(one.cases[:-1]) if case.verdict == "will-not-work"]
        for k in failing:
            self.say(f":- #min {{ D : bare({rule},D) }} = {k}, comes(0,{rule},C), rank({rule},C,K), K < 3.")

    def test(self, test: Json) -> str:
        """Return the body of one test matching at T."""
        q = quoted
        if "relation" in test:
            there = ", ".join(f"fit(T,{q(slot)})" for slot in test["of"])
            atom = self.relation(test["relation"], frozenset(test["of"]))
            return f"{there}, {'' if test['is'] == 'yes' else 'not '}{atom}"
        slot, _, attr = test["on"].partition(".")
        if "in" in test:
            here = self.one_of(test["on"], test["in"], "now(T,")
            return here if attr == "fitted" else f"fit(T,{q(slot)}), {here}"
        if "same_as" in test:
            return f"{'same' if test['is'] else 'differ'}(T,{q(test['on'])},{q(test['same_as'])})"
        return self._quantity(test)

    def _quantity(self, test: Json) -> str:
        made, q = self.made, quoted
        body = []
        for end in (test["on"], test["low"], test["high"]):
            if isinstance(end, str):
                for name in made.inputs(end):
                    body += [f"fit(T,{q(name.partition('.')[0])})", f"not is({q(name)},{q(NOTHING)})"]
        for end, sign in (("low", 1), ("high", -1)):
            if isinstance(test[end], str):
                first, second = sorted((test["on"], test[end]))
                wanted = [sign if test["on"] == first else -sign] + ([] if test[f"{end}_open"] else [0])
                body.append(self.one_of(second, wanted, f"sign({q(first)},"))
        low, high = (None if isinstance(test[end], str) else test[end] for end in ("low", "high"))
        if low is not None or high is not None:
            fine = made.within(test, low, high)
            body.append(self.one_of(test["on"], fine, "band(" if test["on"].startswith("sum.") else "is("))
        return ", ".join(body)

    # Additions ----------------------------------------------------------------------------------------------------

    def _additions(self) -> None:
        made, q = self.made, quoted
        self.say("step(0..last).")
        for bought in made.bought:
            for name, (how, source) in made.sets[bought].items():
                self.say(f"sets({self.bought(bought)},{q(name)}).")
                if not name.endswith(".fitted"):
                    self.say(f"place({q(name)},{q(name.partition('.')[0])}).")
                if how == "to":
                    self.say(f"brought({self.bought(bought)},{q(name)},{q(source)}).")
                else:
                    self.say(f"brought({self.bought(bought)},{q(name)},X) :- is({q(source)},X), X != {q(NOTHING)}.",
                             f"copies({self.bought(bought)},{q(name)},{q(source)}) :- not is({q(source)},{q(NOTHING)}).")
        self.say("later(T,B,V) :- acts(T,B,V), acts(T,D,V), B < D, copies(B,V,_), copies(D,V,_).",
                 "carried(T,V,U) :- acts(T,B,V), copies(B,V,U), not later(T,B,V).",
                 "copied(T,V) :- carried(T,V,_).", "from(T,V,U) :- carried(T,V,U).", "from(T,V,V) :- compared(V), step(T), not copied(T,V).")
        for test in (t for one in made.rules for t in one.tests if "same_as" in t):
            a, b = test["on"], test["same_as"]
            pair = f"T,{q(a)},{q(b)}"
            both = (f"step(T), fit(T,{q(a.split('.')[0])}), fit(T,{q(b.split('.')[0])}), now(T,{q(a)},X), "
                    f"now(T,{q(b)},Y), X != {q(NOTHING)}, Y != {q(NOTHING)}")
            self.say(f"compared({q(a)}). compared({q(b)}).",
                     f"same({pair}) :- {both}, X == Y, X != {q(OTHER)}.", f"differ({pair}) :- {both}, X != Y.",
                     f"same({pair}) :- {both}, X == Y, X == {q(OTHER)}, alike(T,{q(a)},{q(b)}).",
                     f"differ({pair}) :- {both}, X == Y, X == {q(OTHER)}, not alike(T,{q(a)},{q(b)}).",
                     f"alike({pair}) :- from(T,{q(a)},U), from(T,{q(b)},U).",
                     f"alike({pair}) :- from(T,{q(a)},U), from(T,{q(b)},W), flag(U,W).",
                     f"alike({pair}) :- from(T,{q(a)},U), from(T,{q(b)},W), flag(W,U).")

    def text(self, end: str, last: int) -> str:
        """Return the whole program for one end."""
        return "\n".join([f"#const last = {last}.", *self.lines, PATH, ENDS[end], *sorted(self.shown)])


def made_allowed(made: Translation, slot: str, attr: str, option: Any) -> list[Any]:
    """Return what a picked option leaves of an attribute."""
    return allowed(made.book, made.kind(slot), option, attr)


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


def models(text: str, shown: frozenset[str], cap: int) -> set[Atoms]:
    """Return the answer sets of a program projected to some atoms; raises TooMany beyond the cap."""
    control = clingo.Control([str(cap + 1), "--project=show", "--warn=none"])
    control.add("base", [], text)
    control.ground([("base", [])])
    found: set[Atoms] = set()
    with control.solve(yield_=True) as answers:
        for model in answers:
            found.add(frozenset(str(symbol) for symbol in model.symbols(shown=True)) & shown)
    if len(found) > cap:
        raise TooMany(f"more than {cap} answer sets")
    return found


SHOW = "#show pick/2. #show rel/1. #show flag/2. #show band/2. #show sign/3. #show is(V,X) : is(V,X), read(V).\n"


def decide(book: Json, build: Json, subjects: tuple[str, ...] | None = None, cap: int = 3000) -> Found:
    """Return verdict and viable families of a build; stops are left out. Raises TooMany or Unsupported."""
    if relations.contradict(book, build):
        return Found(None, {})
    made = Translation(book, build, subjects)
    program = Program(made)
    program.say(SHOW, *(f"read({quoted(name)})." for name in sorted(made.names) if not name.endswith(".fitted")))
    split = sides(made, program)
    shown = split.ours | split.given | split.after
    last = made.steps
    exists = models(program.text("exists", 0), shown, cap)
    if not exists:
        return Found(None, {})
    found = scope(book, build)
    asked = [i for i in (*found.rules, *found.taken) if subjects is None or i.subject in subjects]
    if not asked:
        return Found("cannot-tell", {})
    enough = models(program.text("enough", last), shown, cap)
    plain = models(program.text("plain", 0), shown, cap)
    not_failing = bool(enough) or bool(models(program.text("not failing", last), frozenset(), 1))
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
