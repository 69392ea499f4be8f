"""The verdict, by its order of precedence, put together from what each island comes to."""
from __future__ import annotations

from typing import NamedTuple

from .decision import Choice, can_be, choice_for_all, reaches, with_fewer_additions
from .forsale import prefer_sold
from .islands import apart, islands
from .model import ADDITIONS, CANNOT_TELL, FAILS, WORKS
from .outcome import OUT
from .question import Question, ours_in
from .strategies import choice_for_each


class Decision(NamedTuple):
    """What it came to: verdict, the choice that is good for all (or several, one for each outcome)."""

    verdict: int
    choice: Choice | None
    strategies: tuple[Choice, ...]
    limit: bool


def decide_verdict(q: Question, to_buy: bool) -> Decision:
    """The verdict by its order of precedence; `to_buy` says that something is open, so plain works is out of reach."""
    if not q.units or q.cut:
        return Decision(CANNOT_TELL, None, (), q.limit)     # cut: of no world at all anything would be true
    if failing(q) is not None:
        return Decision(FAILS, None, (), q.limit)
    limit = q.limit or any(could(i.question)[1] for i in islands(q))
    if 0 in q.dom:
        return Decision(CANNOT_TELL, None, (), limit)
    worst = max((b.verdict for i in apart(q) for b in q.found[i].boxes), default=WORKS)
    stands = [stand(i.question) for i in islands(q)]
    limit = limit or any(d.limit for d in stands)
    worst = max([worst, *(d.verdict for d in stands)])
    strategies = tuple(s for d in stands for s in d.strategies)
    if worst == CANNOT_TELL:
        return Decision(worst, None, (), limit)
    if strategies:
        return Decision(ADDITIONS, None, strategies, limit)
    choice = _together(q, stands)
    if worst == WORKS and not any_rule_speaks(q, choice):
        return Decision(CANNOT_TELL, None, (), limit)       # nothing was looked at: works is never fallen into
    return Decision(ADDITIONS if to_buy else worst, choice, (), limit)


def failing(q: Question) -> Question | None:
    """A part of the question for which no world and no choice comes to better than failing; None if there is none."""
    alone = one_fails(q)
    if alone is not None:
        return q._replace(units=(q.units[alone],), found=(q.found[alone],), memo={"base": q.base})
    return next((i.question for i in islands(q) if not could(i.question)[0]), None)


def one_fails(q: Question) -> int | None:
    """The place of a unit that fails whatever is unknown or chosen; None if there is none."""
    return next((i for i in apart(q) if q.found[i].boxes and q.found[i].boxes[0].verdict == FAILS), None)


def could(q: Question) -> tuple[bool, bool]:
    """Whether some world and some choice come to better than failing on an island: (answer, cut short)."""
    if "could" not in q.memo:
        q.memo["could"] = can_be(q, CANNOT_TELL)
    return q.memo["could"]


def stand(q: Question) -> Decision:
    """What an island that need not fail comes to by itself, worked out once."""
    if "stand" not in q.memo:
        q.memo["stand"] = _stand(q)
    return q.memo["stand"]


def _stand(q: Question) -> Decision:
    if not ours_in(q):
        return _told(q)
    limit = False
    for worst in (WORKS, ADDITIONS):
        choice, cut = choice_for_all(q, worst)
        limit = limit or cut
        if choice is not None:
            least = choice if worst == WORKS else with_fewer_additions(q, choice)
            return Decision(worst, prefer_sold(q, least, worst), (), limit)
    strategies, cut = choice_for_each(q)
    return Decision(ADDITIONS if strategies else CANNOT_TELL, None, strategies, limit or cut)


def _told(q: Question) -> Decision:
    """What an island with nothing to choose comes to: the worst that some world reaches."""
    limit, seen = False, {}
    for worst in (FAILS, CANNOT_TELL, ADDITIONS):
        for b in (b for found in q.found for b in found.boxes if b.verdict == worst):
            reached, cut = reaches(q, q.dom, b, seen)
            limit = limit or cut
            if reached:
                return Decision(min(worst, CANNOT_TELL), Choice(q.dom, {}) if worst == ADDITIONS else None, (), limit)
    return Decision(WORKS, Choice(q.dom, {}), (), limit)


def _together(q: Question, stands: list[Decision]) -> Choice:
    """One choice for the whole from a choice for each island."""
    dom, made = list(q.dom), {}
    for island, d in zip(islands(q), stands):
        made |= d.choice.made
        for v in island.vars:
            dom[v] &= d.choice.dom[v]
    return Choice(tuple(dom), made)


def any_rule_speaks(q: Question, choice: Choice) -> bool:
    """Whether some rule has a case in some world: rules about parts that are not fitted say nothing."""
    return any(True for unit, found in zip(q.units, q.found) for b in found.boxes for i in unit.speaks
               if b.cases[i] != OUT and reaches(q, choice.dom, b)[0])
