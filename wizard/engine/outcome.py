"""What a rule comes to in a world: the first case that matches, or the split of a domain that would tell.

A unit is made of rules that must be looked at together, and becomes disjoint boxes with one outcome each (settling.py).
"""
from __future__ import annotations

from typing import Any, NamedTuple, Sequence

from .names import gap_name, match_name, quantity_name, relation_name, same_name
from .model import OTHER, Book, Instance, bound
from .numbers import limit_mask
from .plans import Key, Over, Plan, Split, translate

OUT = -1                # the rule is out of question: a part it speaks of is not fitted
UNLOOKED = -2           # the rule was not looked at: nothing that its additions set could make a difference


Settable = dict[int, tuple[tuple[str, int], ...]]


class Prepared(NamedTuple):
    """An instance with its tests as variables and masks: ("in", var, mask), ("same", a, b, flag, wanted, match)."""

    inst: Instance
    gates: tuple[int, ...]                          # fitted variables whose `no` puts the rule out of question
    cases: tuple[tuple[tuple[tuple, ...], ...], ...]
    right: bool                                     # taken as right on somebody's word


class Box(NamedTuple):
    """Where a unit has one outcome: masks of some variables, the verdict, each rule's case, and ways to add."""

    masks: dict[int, int]
    verdict: int
    cases: tuple[int, ...]
    options: tuple[frozenset[Key], ...]
    blocked: tuple[Key, ...]
    limited: bool


class Unit(NamedTuple):
    """Rules that must be answered together; `speaks` are the positions of those that this unit answers for.

    The others are there for what their additions set, or because they may feel which of several ways is taken; they
    are answered for by units of their own.
    """

    rules: tuple[Prepared, ...]
    plans: dict[Key, Plan]
    speaks: tuple[int, ...]
    id: int                             # a number that no other unit on the book has
    touched: tuple[int, ...]            # the variables that its rules and additions read or set
    slots: tuple[str, ...]              # and the slots that can be felt through them
    sets: tuple[frozenset[int], ...]    # for each rule, the variables that its additions set
    may: Settable                       # for each variable that some addition sets, how
    felt: tuple[int, ...]               # positions of the rules that may feel which of several ways is taken


def looked_at(test: tuple) -> tuple[int, ...]:
    """The variables that a test is about: one, or the two attributes that it holds against each other."""
    return test[1:3] if test[0] == "same" else test[1:2]


def by_values(p: Prepared) -> Prepared:
    """The rule with comparisons decided value by value, where the tables of matches are not at hand."""
    return p._replace(cases=tuple(tuple(tuple(t if t[0] == "in" else (*t[:5], -1) for t in row) for row in rows)
                                  for rows in p.cases))


def prepare(book: Book, space: Any, inst: Instance) -> Prepared:
    """Turn an instance's tests into masks on the variables of a layout."""
    read_fitted = {n.split(".")[0] for n in inst.reads if n.endswith(".fitted")}
    gates = tuple(space.index[f"{s}.fitted"] for s in inst.about + inst.partners if s not in read_fitted)
    cases = tuple(tuple(tuple(x for t in row for x in (*_there(space, inst, t), *_tests(book, space, inst, t)))
                        for row in case.rows) for case in inst.cases)
    return Prepared(inst, gates, cases, False)


def _there(space: Any, inst: Instance, test: dict[str, Any]) -> list[tuple]:
    """A relation over a part that is not fitted never matches, so the parts must be there first."""
    return [("in", space.index[f"{bound(n, inst.bind)}.fitted"], 1) for n in test.get("of") or ()]


def _tests(book: Book, space: Any, inst: Instance, test: dict[str, Any]) -> list[tuple]:
    """A test of a rule as tests on variables; all of them must hold."""
    if "relation" in test:
        return [("in", space.index[relation_name(test, inst)], 1 if test["is"] == "yes" else 2)]
    if "same_as" in test:
        a, b = bound(test["on"], inst.bind), bound(test["same_as"], inst.bind)
        return [("same", space.index[a], space.index[b], space.index[same_name(a, b)], bool(test.get("is", True)),
                 space.index[match_name(a, b)])]
    if "in" in test:
        v = space.index[bound(test["on"], inst.bind)]
        return [("in", v, sum(1 << i for i, x in enumerate(space.values[v]) if x in test["in"]))]
    out = []
    low, high = test.get("low"), test.get("high")
    low_open, high_open = bool(test.get("low_open")), bool(test.get("high_open"))
    if isinstance(low, str):        # the first less the second must not be below nothing
        out.append(("in", space.index[gap_name(book, test, low, inst)], limit_mask((0.0,), 0.0, low_open, None, False)))
        low = None
    if isinstance(high, str):
        out.append(("in", space.index[gap_name(book, test, high, inst)], limit_mask((0.0,), None, False, 0.0, high_open)))
        high = None
    if low is not None or high is not None:
        name = quantity_name(book, test["on"], inst)
        cuts = book.cuts[test["on"] if test["on"].startswith("sum.") else name]
        out.append(("in", space.index[name], limit_mask(cuts, low, low_open, high, high_open)))
    return out


def decide(p: Prepared, dom: Sequence[int], over: Over, values, may: Settable | None = None,
           saw: set[int] | None = None) -> int | Split:
    """The case that a rule comes to on a domain (OUT if out of question), or the split that would tell.

    `saw` collects the variables met that additions (`may`) could set to something that a test would tell apart.
    """
    return decide_from(0, p, dom, over, values, may, saw)[0]


def decide_from(first: int, p: Prepared, dom: Sequence[int], over: Over, values, may: Settable | None = None,
                saw: set[int] | None = None) -> tuple[int | Split, int]:
    """The same, and the first case that is not ruled out; with `first` the cases before it are ruled out already."""
    for v in p.gates if first == 0 else ():
        mask = _mask(v, dom, over)[0]
        if saw is not None and v in may:
            saw.add(v)
        if mask == 2:
            return OUT, 0
        if mask & 2:
            return (v, 2), 0
    for i in range(first, len(p.cases)):
        undecided: Split | None = None
        for row in p.cases[i]:
            state: Any = True
            for test in row:
                state = _holds(test, dom, over, values)
                if saw is not None and not isinstance(state, tuple):
                    _look(test, state, may, saw)
                if state is not True:
                    break
            if state is True:
                break
            if state is not False and undecided is None:
                undecided = state
        else:
            if undecided is not None:
                return undecided, i
            continue
        return (i if undecided is None else undecided), i
    return len(p.cases) - 1, len(p.cases) - 1


def _look(test: tuple, state: bool, may: Settable, saw: set[int]) -> None:
    """Note the variables of a test that some addition could set so that it comes out otherwise."""
    if test[0] == "in":
        ways = may.get(test[1])
        if ways and any(how == "as" or bool(x & test[2]) != state for how, x in ways):
            saw.add(test[1])
    else:
        saw.update(v for v in test[1:3] if v in may)


def _mask(v: int, dom: Sequence[int], over: Over) -> tuple[int, int]:
    """The values a rule sees in a variable, and the variable that they come from (-1 when set by an addition)."""
    if v in over:
        how, x = over[v]
        if how == "to":
            return x, -1
        if x in over and over[x][0] == "to":
            return over[x][1], -1
        return dom[x], x
    return dom[v], v


def _holds(test: tuple, dom: Sequence[int], over, values) -> bool | Split:
    if test[0] == "in":
        _, v, wanted = test
        mask, source = _mask(v, dom, over)
        if source not in (-1, v):
            wanted = translate(wanted, values[v], values[source])
        hit = mask & wanted
        if hit == mask:
            return True
        return False if not hit else (source, hit)
    _, a, b, flag, wanted, match = test
    if match >= 0 and a not in over and b not in over:
        hit = dom[match] & (1 if wanted else 2)
        if not hit or hit == dom[match]:
            return bool(hit)
        if dom[a] & (dom[a] - 1) and dom[b] & (dom[b] - 1):
            return match, hit       # both open: whether they match is one split, their values would be dozens
    ma, sa = _mask(a, dom, over)
    mb, sb = _mask(b, dom, over)
    ids_a, ids_b = values[sa if sa >= 0 else a], values[sb if sb >= 0 else b]
    for mask, source, ids in ((ma, sa, ids_a), (mb, sb, ids_b)):
        na = 1 << (len(ids) - 1)
        if mask == na:
            return False
        if mask & na:
            return source, na
    if sa >= 0 and sa == sb:
        return wanted
    same, single_a, single_b = translate(ma, ids_a, ids_b) & mb, ma & (ma - 1) == 0, mb & (mb - 1) == 0
    if not same:
        return not wanted
    if single_a and single_b:
        if ids_a[ma.bit_length() - 1] == OTHER:
            return (dom[flag] == 1) == wanted if dom[flag] != 3 else (flag, 1)
        return wanted
    bit = same & -same
    return (sb, bit) if not single_b else (sa, translate(bit, ids_b, ids_a))
