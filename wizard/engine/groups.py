"""Which rules have to be answered together, because an addition that one names sets what another reads."""
from __future__ import annotations

from typing import Sequence

from .build import Build
from .model import Book, Instance
from .outcome import Unit
from .plans import Key, Plan, closure, key_of
from .space import keep, number

Group = tuple[tuple[Instance, ...], tuple[int, ...], tuple[int, ...]]   # rules; whom it answers for; who may feel a choice


def make_units(book: Book, build: Build, rules: Sequence[Instance]) -> tuple[Unit, ...]:
    """The rules in question as units, with what this build takes as right and rules out."""
    kept = tuple(s for s, e in build.slots.items() if e.keep)
    key = ("units", tuple(r.key for r in rules), build.right, build.allowed_types, kept)
    return keep(book, key, lambda: tuple(make_unit(book, build, *g) for g in groups(book, rules)))


def make_unit(book: Book, build: Build, rules: Sequence[Instance], speaks: tuple[int, ...],
              felt: tuple[int, ...] = ()) -> Unit:
    """Rules that are answered together; the same unit for as long as nothing that concerns it is told anew."""
    right = set(build.right)
    taken = tuple((rule.rule, rule.slot) in right or (rule.rule, None) in right for rule in rules)
    plans = {key: plan for rule in rules for key, plan in book.layout.ready[rule.key].plans.items()}
    blocked = frozenset(key for key, plan in plans.items() if is_blocked(build, plan))

    def make() -> Unit:
        ready = [book.layout.ready[rule.key] for rule in rules]
        may: dict[int, set[tuple[str, int]]] = {}
        for plan in plans.values():
            for v, how in plan.sets.items():
                may.setdefault(v, set()).add(how)
        return Unit(tuple(r.rule._replace(right=True) if t else r.rule for r, t in zip(ready, taken)),
                    {k: plan._replace(blocked=k in blocked) for k, plan in plans.items()}, speaks, number(book),
                    tuple(sorted({v for r in ready for v in r.touched})), tuple(sorted({s for r in ready for s in r.slots})),
                    tuple(frozenset(v for plan in r.plans.values() for v in plan.sets) for r in ready),
                    {v: tuple(sorted(ways)) for v, ways in may.items()}, felt)

    return keep(book, ("unit", tuple(r.key for r in rules), speaks, felt, taken, blocked), make)


def is_blocked(build: Build, plan: Plan) -> bool:
    """Whether what the customer said rules an addition out."""
    kept = any(s in build.slots and build.slots[s].keep for s in plan.changes)
    return kept or (build.allowed_types is not None and plan.type not in build.allowed_types)


def groups(book: Book, rules: Sequence[Instance]) -> tuple[Group, ...]:
    """Rules to be answered together, with the positions of those that the group answers for."""
    return keep(book, ("groups", tuple(r.key for r in rules)), lambda: tuple(_groups(book, rules)))


def _groups(book: Book, rules: Sequence[Instance]) -> list[Group]:
    """One group for each rule: itself, beside the rules whose additions set what it reads, and theirs in turn.

    Where every addition that sets something is the only way its case offers, any world has one set of additions in
    the end, and the worst of all rules is the worst of these answers. A rule that offers a choice of ways has with it
    all rules that can feel which way is taken, or each of them might take another way.
    """
    ready = {r.key: book.layout.ready[r.key] for r in rules}
    place = {r.key: i for i, r in enumerate(rules)}
    setting = [r for r in rules if any(plan.sets for plan in ready[r.key].plans.values())]
    choosing = [r for r in setting if any(
        len(case.additions) > 1 and any(_sets(ready[r.key].plans, r, book, alt) for alt in case.additions) for case in r.cases)]
    feeling = _by_choice(choosing, {r.key: _felt_by(ready, setting, rules, r) for r in choosing})
    out: list[Group] = []
    for rule in rules:
        felt = [r for r in feeling.get(rule.key, ()) if r is not rule]
        beside = {r.key: r for member in (rule, *felt) for r in _setters(ready, setting, member)}
        everyone = sorted(({r.key: r for r in (rule, *felt)} | beside).values(), key=lambda r: place[r.key])
        at = {r.key: i for i, r in enumerate(everyone)}
        out.append((tuple(everyone), (at[rule.key],), tuple(sorted(at[r.key] for r in felt))))
    return out


def _by_choice(choosing: Sequence[Instance], felt: dict[str, list[Instance]]) -> dict[str, list[Instance]]:
    """For each rule that offers a choice, all rules that feel it or another choice with which it shares any of them.

    Choices that one rule feels have to be taken together, and so on in turn.
    """
    sets = [({c.key}, {c.key: c} | {r.key: r for r in felt[c.key]}) for c in choosing]
    joined: list[tuple[set[str], dict[str, Instance]]] = []
    for keys, rules in sets:
        near = [j for j in joined if j[1].keys() & rules.keys()]
        joined = [j for j in joined if j not in near]
        for more_keys, more in near:
            keys, rules = keys | more_keys, rules | more
        joined.append((keys, rules))
    return {k: list(rules.values()) for keys, rules in joined for k in keys}


def _felt_by(ready: dict, setting: Sequence[Instance], rules: Sequence[Instance], rule: Instance) -> list[Instance]:
    """All rules that can feel what a rule's additions set, directly or through the additions of others."""
    found: list[Instance] = []
    todo = [rule]
    while todo:
        sets = {v for plan in ready[todo.pop().key].plans.values() for v in plan.sets}
        for other in rules:
            if other not in found and other is not rule and ready[other.key].touched & sets:
                found.append(other)
                if other in setting:
                    todo.append(other)
    return found


def _sets(plans: dict[Key, Plan], rule: Instance, book: Book, alternative: Sequence[str]) -> bool:
    return any(plans[k].sets for k in closure(plans, [key_of(book, rule, a) for a in alternative]))


def _setters(ready: dict, setting: Sequence[Instance], rule: Instance) -> tuple[Instance, ...]:
    """The rules whose additions set something that a rule reads, and those whose additions they feel in turn."""
    reads = set(ready[rule.key].touched)
    found: list[Instance] = []
    grew = True
    while grew:
        grew = False
        for other in setting:
            if other not in found and other is not rule and any(v in reads for plan in ready[other.key].plans.values() for v in plan.sets):
                found.append(other)
                reads |= ready[other.key].touched
                grew = True
    return tuple(sorted(found, key=setting.index))
