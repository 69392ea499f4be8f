"""The verdict, by its order of precedence."""
from __future__ import annotations

from typing import NamedTuple

from .decision import Choice, can_be, choice_for_all, reaches, with_fewer_additions
from .model import ADDITIONS, CANNOT_TELL, FAILS, WORKS
from .outcome import OUT
from .question import Question
from .strategies import choice_for_each


class Decision(NamedTuple):
    """What it came to: verdict, the choice that is good for all (or several, one for each outcome)."""

    verdict: int
    choice: Choice | None
    strategies: tuple[Choice, ...]
    limit: bool


def decide_verdict(q: Question, to_buy: bool) -> Decision:
    """The verdict by its order of precedence; `to_buy` says that something is open, so plain works is out of reach."""
    if not any(q.units):
        return Decision(CANNOT_TELL, None, (), q.limit)
    could, cut = can_be(q, CANNOT_TELL)
    if not could:
        return Decision(FAILS, None, (), q.limit)
    limit = q.limit or cut
    if 0 in q.dom:
        return Decision(CANNOT_TELL, None, (), limit)
    for worst in (WORKS, ADDITIONS):
        choice, cut = choice_for_all(q, worst)
        limit = limit or cut
        if choice is not None:
            if worst == WORKS and not any_rule_speaks(q, choice):
                return Decision(CANNOT_TELL, None, (), limit)       # nothing was looked at: works is never fallen into
            if worst == ADDITIONS:
                choice = with_fewer_additions(q, choice)
            return Decision(ADDITIONS if to_buy else worst, choice, (), limit)
    strategies, cut = choice_for_each(q)
    limit = limit or cut
    if strategies:
        return Decision(ADDITIONS, None, strategies, limit)
    return Decision(CANNOT_TELL, None, (), limit)


def any_rule_speaks(q: Question, choice: Choice) -> bool:
    """Whether some rule has a case in some world: rules about parts that are not fitted say nothing."""
    return any(True for unit, boxes in zip(q.units, q.boxes) for b in boxes for i in unit.speaks
               if b.cases[i] != OUT and reaches(q, choice.dom, b)[0])
