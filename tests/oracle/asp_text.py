"""The text that clingo gets of one build: parts, rules and additions, one line at a time."""

from __future__ import annotations

from typing import Any

from tests.oracle import relations
from tests.oracle.ground import Bought, Json, OTHER, RANK, blocked, with_needs
from tests.oracle.parts import allowed, is_said
from tests.oracle.translate import NOTHING, Translation, bare_rule

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
now(T,V,X) :- is(V,X), settable(V), step(T), not over(T,V).
worst(T,K) :- comes(T,R,C), rank(R,C,K), asked(R).
fit(T,S) :- now(T,V,"yes"), fits(V,S).
fit(T,S) :- is(V,"yes"), fits(V,S), not settable(V), step(T).
"""
ENDS = """
#external ask("enough").
:- ask("enough"), pending(last).
:- ask("enough"), clash(T).
:- ask("enough"), worst(last,2).
:- ask("enough"), worst(last,3).
#external ask("plain").
:- ask("plain"), pending(0).
:- ask("plain"), worst(0,K), K > 0.
#external ask("not failing").
:- ask("not failing"), pending(last).
:- ask("not failing"), clash(T).
:- ask("not failing"), worst(last,3).
#external ask("speaks").
:- ask("speaks"), not speaks.
"""


def quoted(value: Any) -> str:
    """Return any value as a text constant."""
    text = str(value).replace("\\", "\\\\").replace('"', "'")
    return f'"{text}"'


class Program:
    """The text of a build's description."""

    def __init__(self, made: Translation) -> None:
        self.made = made
        self.lines: list[str] = []
        for slot in made.slots:
            self._slot(slot)
        self._same()
        self._flags()
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
        felt = made.felt(slot)
        for attr, one in kind.attributes.items():
            name = f"{slot}.{attr}"
            needs = "".join(f", {self.one_of(f'{slot}.{parent}', values)}"
                            for parent, values in (one["applies_when"] or {}).items())
            if attr not in felt:
                said = [(way, made_allowed(made, slot, attr, option)) for way, option in made.options(slot)
                        if option is not None and is_said(made.book, option, attr)]
                if said and needs:
                    self.say(f"applies({q(name)}) :- {needs[2:]}.")
                self.say(*(f":- pick({q(slot)},{q(way)}){f', not applies({q(name)})' if left else ''}."
                           for way, left in said if needs or not left))
                continue
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

    def _flags(self) -> None:
        """Name the flags of all that a rule may find to be another one on both sides, copies from elsewhere included."""
        made = self.made

        def origins(name: str) -> list[str]:
            copied = [source for b in made.bought for how, source in [made.sets[b].get(name, ("", ""))] if how == "same_as"]
            return [one for one in (name, *copied) if OTHER in made.domain(one)]

        for test in (t for one in made.rules for t in one.tests if "same_as" in t):
            for left in origins(test["on"]):
                for right in origins(test["same_as"]):
                    made.flag(left, right)

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
            moves = made.moves(one)
            self.say(*([] if moves else [f"still({rule})."]))
            for k, case in enumerate(one.cases):
                for row in case.rows:
                    body = f"fires(T,{rule},{k}) :- step(T){there}" + "".join(f", {self.test(test)}" for test in row)
                    self.say(f"{body if moves else body.replace('(T', '(0')}.")
                self.say(f"rank({rule},{k},{RANK[case.verdict]}).")
                if case.verdict == "works-with-additions":
                    self.say(f"adds({rule},{k}).")
                for w, way in enumerate(case.alternatives):
                    self._way(rule, k, f"w{n}_{k}_{w}", with_needs(made.book, way))
            self._word(one, rule)
        self.say("comes(T,R,C) :- fires(T,R,C), #min { D : fires(T,R,D) } = C.",
                 "comes(T,R,C) :- comes(0,R,C), still(R), step(T), T > 0.",
                 *(f"settable({q(name)})." for name in sorted(made.settable)))

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
            here = self.one_of(test["on"], test["in"], "now(T," if test["on"] in self.made.settable else "is(")
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
            now = [f"now(T,{q(name)}," if name in made.settable else f"is({q(name)}," for name in (a, b)]
            both = (f"step(T), fit(T,{q(a.split('.')[0])}), fit(T,{q(b.split('.')[0])}), {now[0]}X), "
                    f"{now[1]}Y), X != {q(NOTHING)}, Y != {q(NOTHING)}")
            self.say(f"compared({q(a)}). compared({q(b)}).",
                     f"same({pair}) :- {both}, X == Y, X != {q(OTHER)}.", f"differ({pair}) :- {both}, X != Y.",
                     f"same({pair}) :- {both}, X == Y, X == {q(OTHER)}, alike(T,{q(a)},{q(b)}).",
                     f"differ({pair}) :- {both}, X == Y, X == {q(OTHER)}, not alike(T,{q(a)},{q(b)}).",
                     f"alike({pair}) :- from(T,{q(a)},U), from(T,{q(b)},U).",
                     f"alike({pair}) :- from(T,{q(a)},U), from(T,{q(b)},W), flag(U,W).",
                     f"alike({pair}) :- from(T,{q(a)},U), from(T,{q(b)},W), flag(W,U).")

    def text(self, last: int) -> str:
        """Return the whole program with so many steps of adding; what it must come to is asked by setting `ask`."""
        return "\n".join([f"#const last = {last}.", *self.lines, PATH, ENDS])


def made_allowed(made: Translation, slot: str, attr: str, option: Any) -> list[Any]:
    """Return what a picked option leaves of an attribute."""
    return allowed(made.book, made.kind(slot), option, attr)
