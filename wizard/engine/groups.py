"""Which rules have to be answered together, because an addition that one names sets what another reads."""
from __future__ import annotations

from typing import Sequence

from .build import Build
from .model import Book, Instance
from .outcome import Unit
from .plans import Key, Plan, closure, key_of
from .space import keep, number

Group = tuple[tuple[Instance, ...], tuple[int, ...]]


def make_units(book: Book, build: Build, rules: Sequence[Instance]) -> tuple[Unit, ...]:
    """The rules in question as units, with what this build takes as right and rules out."""
    kept = tuple(s for s, e in build.slots.items() if e.keep)
    key = ("units", tuple(r.key for r in rules), build.right, build.allowed_types, kept)
    return keep(book, key, lambda: tuple(make_unit(book, build, g, speaks) for g, speaks in groups(book, rules)))


def make_unit(book: Book, build: Build, rules: Sequence[Instance], speaks: tuple[int, ...]) -> Unit:
    """Rules that are answered together; the same unit for as long as nothing that concerns it is told anew."""
    right = set(build.right)
    taken = tuple((rule.rule, rule.slot) in right or (rule.rule, None) in right for rule in rules)
    plans = {key: plan for rule in rules for key, plan in book.layout.ready[rule.key].plans.items()}
    blocked = frozenset(key for key, plan in plans.items() if is_blocked(build, plan))

    def make() -> Unit:
        ready = [book.layout.ready[rule.key] for rule in rules]
        return Unit(tuple(r.rule._replace(right=True) if t else r.rule for r, t in zip(ready, taken)),
                    {k: plan._replace(blocked=k in blocked) for k, plan in plans.items()}, speaks, number(book),
                    tuple(sorted({v for r in ready for v in r.touched})), tuple(sorted({s for r in ready for s in r.slots})))

    return keep(book, ("unit", tuple(r.key for r in rules), speaks, taken, blocked), make)


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
    the end, and the worst of all rules is the worst of these answers. A rule that offers a choice of ways is answered
    together with all rules that can feel which way is taken, or each of them might take another way.
    """
    ready = {r.key: book.layout.ready[r.key] for r in rules}
    place = {r.key: i for i, r in enumerate(rules)}
    setting = [r for r in rules if any(plan.sets for plan in ready[r.key].plans.values())]
    core = {r.key: r.key for r in rules}        # rule -> the rule that its group is named after

    def root(key: str) -> str:
        while core[key] != key:
            key = core[key]
        return key

    for rule in setting:
        if any(len(case.additions) > 1 and any(_sets(ready[rule.key].plans, rule, book, alt) for alt in case.additions)
               for case in rule.cases):
            for other in _felt_by(ready, setting, rules, rule):
                a, b = root(rule.key), root(other.key)
                if a != b:
                    core[max(a, b, key=place.__getitem__)] = min(a, b, key=place.__getitem__)
    together: dict[str, list[Instance]] = {}
    for rule in rules:
        together.setdefault(root(rule.key), []).append(rule)
    out: list[Group] = []
    for group in together.values():
        beside = sorted({r.key: r for member in group for r in _setters(ready, setting, member)
                         if r not in group}.values(), key=lambda r: place[r.key])
        out.append(((*beside, *group), tuple(range(len(beside), len(beside) + len(group)))))
    return out


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
