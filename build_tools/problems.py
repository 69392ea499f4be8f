"""A problem in a file: where it is, what is wrong, what is allowed, and where to read about it."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import NamedTuple

MOST_LISTED = 16


class Problem(NamedTuple):
    """One thing to put right; sorts by file, then line, then wording."""

    file: str
    line: int
    what: str
    check: str
    allowed: str = ""
    near: str = ""


def printed(problem: Problem) -> str:
    """Return the one line a person reads: place, what, allowed, near match, check id."""
    parts = [problem.what]
    if problem.allowed:
        parts.append(problem.allowed)
    if problem.near:
        parts.append(f"Did you mean '{problem.near}'?")
    place = f"{problem.file}:{problem.line}" if problem.line else problem.file
    return f"{place}  {' '.join(parts)} [{problem.check}] See DEVELOPERS.md#{problem.check}"


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """Return the problems sorted and each only once."""
    return sorted(set(problems))


def near_match(word: str, choices: Iterable[str]) -> str:
    """Return the choice most like the word, or an empty string when none is close."""
    found = difflib.get_close_matches(word, sorted(set(choices)), n=1, cutoff=0.6)
    return found[0] if found and found[0] != word else ""


def listed(choices: Iterable[str], opening: str = "Allowed:") -> str:
    """Return a sentence that lists the choices, cut short when there are very many."""
    names = sorted(set(choices))
    if not names:
        return ""
    shown = ", ".join(names[:MOST_LISTED])
    more = len(names) - MOST_LISTED
    return f"{opening} {shown}{f' and {more} more' if more > 0 else ''}."
