"""Which rules have to be answered together, because an addition that one names sets what another reads."""
from __future__ import annotations

from typing import Sequence

from .build import Build
from .model import Book, Instance
from .outcome import Unit
from .plans import Key, Plan, closure, key_of
from .space import keep

Group = tuple[tuple[Instance, ...], tuple[int, ...]]


def make_unit(book: Book, build: Build, rules: Sequence[Instance], speaks: tuple[int, ...]) -> Unit:
    """Rules that are answered together, with what this build takes as right and rules out."""
    right = set(build.right)
    prepared, plans = [], {}
    for rule in rules:
        ready = book.layout.ready[rule.key]
        taken = (rule.rule, rule.slot) in right or (rule.rule, None) in right
        prepared.append(ready.rule._replace(right=True) if taken else ready.rule)
        for key, plan in ready.plans.items():
            plans[key] = plan._replace(blocked=True) if is_blocked(build, plan) else plan
    return Unit(tuple(prepared), plans, speaks)


def is_blocked(build: Build, plan: Plan) -> bool:
    """Whether what the customer said rules an addition out."""
    kept = any(s in build.slots and build.slots[s].keep for s in plan.changes)
    return kept or (build.allowed_types is not None and plan.type not in build.allowed_types)


def groups(book: Book, rules: Sequence[Instance]) -> tuple[Group, ...]:
    """Rules to be answered together, with the positions of those that the group answers for."""
    return keep(book, ("groups", tuple(r.key for r in rules)), lambda: tuple(_groups(book, rules)))


def _groups(book: Book, rules: Sequence[Instance]) -> list[Group]:
    """Rules are tied by additions: one names an addition that sets what another reads.

    Where every addition that sets something is the only way its case offers, the rules that merely read are each
    answered beside the rules that set, and not beside one another: in any world there is then one set of additions in
    the end, and the worst of all rules is the worst of those answers.
    """
    ready = {r.key: book.layout.ready[r.key] for r in rules}
    out: list[Group] = []
    for group in _tied(ready, rules):
        setting = [r for r in group if any(plan.sets for plan in ready[r.key].plans.values())]
        lone = all(len(case.additions) == 1 for r in setting for case in r.cases
                   if any(_sets(ready[r.key].plans, r, book, alt) for alt in case.additions))
        if len(group) == 1 or not lone:
            out.append((group, tuple(range(len(group)))))
            continue
        out += [(g, tuple(range(len(g)))) for g in _tied(ready, setting)]
        for rule in (r for r in group if r not in setting):
            beside = _setters(ready, setting, rule)
            out.append(((*beside, rule), (len(beside),)))
    return out


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
            if other not in found and any(v in reads for plan in ready[other.key].plans.values() for v in plan.sets):
                found.append(other)
                reads |= ready[other.key].touched
                grew = True
    return tuple(sorted(found, key=setting.index))


def _tied(ready: dict, rules: Sequence[Instance]) -> list[tuple[Instance, ...]]:
    """Rules with all that any addition ties to them."""
    set_by = {v for r in rules for plan in ready[r.key].plans.values() for v in plan.sets}
    parent = list(range(len(rules)))

    def root(i: int) -> int:
        while parent[i] != i:
            i = parent[i]
        return i

    owner: dict[int, int] = {}
    for i, r in enumerate(rules):
        for v in sorted(ready[r.key].touched & set_by):
            parent[root(i)] = root(owner.setdefault(v, i))
    found: dict[int, list[Instance]] = {}
    for i, rule in enumerate(rules):
        found.setdefault(root(i), []).append(rule)
    return [tuple(g) for g in found.values()]
