"""What a unit comes to where: its rules with what additions make of them, as disjoint boxes with one outcome each.

Rules whose additions set something that another rule reads are looked at together as one unit; its outcome is worked
out by splitting domains only where the next undecided test asks for it. A rule that is there only for what its
additions set is looked at only where a test has met something that they could set otherwise: the product of all their
cases would have far more boxes. What is settled on a domain stays so on all narrower ones and is not asked again.
"""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .model import ADDITIONS, CANNOT_TELL, FAILS, WORKS, Book
from .outcome import OUT, UNLOOKED, Box, Unit, decide, decide_from
from .plans import Key, Over, Split, applied, closure, key_of

BOX_LIMIT = 1000        # boxes of one unit
PLAN_LIMIT = 400        # sets of additions tried in one world of one unit
OPTION_LIMIT = 8        # alternatives reported


class Progress(NamedTuple):
    """What is settled on a domain, and so on all narrower ones: which rules of a unit matter, and of each its case.

    `at` gives of a rule its case without additions (UNLOOKED as long as that is open), the first case not ruled out,
    and the variables met that additions could set so that it mattered.
    """

    active: frozenset[int]
    at: dict[int, tuple[int, int, frozenset[int]]]


def resolve(book: Book, unit: Unit, dom: Sequence[int], values, start: Progress) -> tuple[Box | Split, Progress]:
    """The outcome of a unit on a domain, or the split that would tell; rules are taken in as they come to matter."""
    active, at = set(start.active), dict(start.at)
    while True:
        saw: set[int] | None = None if len(unit.rules) == len(unit.speaks) else set()
        got = _settle(book, unit, dom, values, active, at, saw)
        more = set() if saw is None or not isinstance(got, Box) else {
            i for i, sets in enumerate(unit.sets) if i not in active and not saw.isdisjoint(sets)}
        if not more:
            return got, Progress(frozenset(active), at)
        active |= more


def _settle(book: Book, unit: Unit, dom: Sequence[int], values, active: set[int], at: dict[int, tuple],
            saw: set[int] | None) -> Box | Split:
    """The outcome of some rules of a unit on a domain, trying additions from none upwards; or the split that would tell.

    `saw` collects what additions of other rules could set so that it mattered. A rule that feels what several ways
    leave a choice of joins `active` on the way.
    """
    base: list[int] = [UNLOOKED] * len(unit.rules)
    for i in sorted(active):
        got = _without_additions(unit, i, dom, values, at, saw)
        if isinstance(got, tuple):
            return got
        base[i] = got
    best, options, stuck = FAILS, [], []
    seen: set[frozenset[Key]] = set()
    waiting: list[frozenset[Key]] = [frozenset()]
    tried, limited = 0, False
    while waiting:
        x = waiting.pop(0)
        if x in seen or any(o < x for o in options if best <= ADDITIONS):
            continue
        seen.add(x)
        tried += 1
        if tried > PLAN_LIMIT:
            best, limited = (CANNOT_TELL if best > ADDITIONS else best), True
            break
        over = applied(unit.plans, x, dom, values)
        if isinstance(over, tuple):
            return over
        if over is None:
            continue
        if saw is not None:
            saw.update(v for v in over if len(unit.may[v]) > 1)     # set in one way only, nothing can set it otherwise
        feels = _feeling(unit, dom, values, over, active, at) if unit.felt and over else None
        if feels is not None:
            if isinstance(feels, tuple):
                return feels
            active.add(feels)
            return _settle(book, unit, dom, values, active, at, saw)
        worst, pending, dead = (ADDITIONS if x else WORKS), [], False
        for i, (p, first) in enumerate(zip(unit.rules, base)):
            if i not in active:
                continue
            got = decide(p, dom, over, values, unit.may, saw) if x else first
            if isinstance(got, tuple):
                return got
            if got == OUT or p.right:
                continue
            case = p.inst.cases[got]
            if case.verdict != ADDITIONS:
                worst = max(worst, case.verdict)
                continue
            ways = [closure(unit.plans, [key_of(book, p.inst, a) for a in alt]) for alt in case.additions]
            if any(w <= x for w in ways):
                worst = max(worst, ADDITIONS)
                continue
            able = [w for w in ways if not any(unit.plans[k].blocked for k in w)]
            if not able:
                dead = True
                stuck += [k for w in ways for k in sorted(w, key=str) if unit.plans[k].blocked and k not in stuck]
            pending.append(able)
        if dead:
            continue
        if pending:
            waiting += [x | w for able in pending for w in able]
            continue
        if worst < best or (worst == best and worst == ADDITIONS):
            options = [o for o in options if best == worst] if worst == best else []
            best = worst
            if worst == ADDITIONS and x:
                options = [o for o in options if not x < o] + [x]
        if best == WORKS:
            break
    return Box({}, best, tuple(base), tuple(options[:OPTION_LIMIT]), tuple(stuck), limited)


def _without_additions(unit: Unit, i: int, dom: Sequence[int], values, at: dict[int, tuple],
                       saw: set[int] | None) -> int | Split:
    """The case of one rule of a unit without additions, or the split that would tell; `at` keeps what is settled."""
    case, first, met = at.get(i, (UNLOOKED, 0, frozenset()))
    if case == UNLOOKED:
        seen = set(met)
        got, first = decide_from(first, unit.rules[i], dom, {}, values, unit.may, None if saw is None else seen)
        if isinstance(got, tuple):
            if first:
                at[i] = UNLOOKED, first, frozenset(seen)
            return got
        case, met = got, frozenset(seen)
        at[i] = case, first, met
    if saw is not None:
        saw |= met
    return case


def _feeling(unit: Unit, dom: Sequence[int], values, over: Over, active: set[int], at: dict[int, tuple]) -> int | Split | None:
    """The position of a rule not looked at yet that can feel what is set here; or the split that would tell; or None."""
    for i in unit.felt:
        if i not in active:
            met: set[int] = set()
            got = _without_additions(unit, i, dom, values, at, met)
            if isinstance(got, tuple):
                return got
            if not met.isdisjoint(over):
                return i
    return None


def boxes_of(book: Book, unit: Unit, dom: Sequence[int], values, keep=None, most: int | None = None) -> tuple[list[Box], bool]:
    """The disjoint boxes of a unit on a domain, and whether the limit was hit (then the rest is cannot-tell).

    `keep` may narrow a domain further by what follows from the split, or say that it cannot be (it is left out).
    """
    out: list[Box] = []
    waiting: list[tuple[list[int], frozenset[int], Progress]] = [(list(dom), frozenset(), Progress(frozenset(unit.speaks), {}))]
    while waiting:
        state, touched, progress = waiting.pop()
        if len(out) + len(waiting) > (BOX_LIMIT if most is None else most):
            left = [(state, touched, progress)] + waiting
            out += [Box({v: s[v] for v in t}, CANNOT_TELL, (OUT,) * len(unit.rules), (), (), True) for s, t, _ in left]
            return out, True
        got, progress = resolve(book, unit, state, values, progress)
        if isinstance(got, Box):
            out.append(got._replace(masks={v: state[v] for v in sorted(touched)}))
            continue
        v, mask = got
        for part in (state[v] & ~mask, state[v] & mask):
            new = list(state)
            new[v] = part
            if keep is None or keep(new, v):
                waiting.append((new, touched | {v}, progress))
    return out, False
