"""What a run of comparisons counts and finds wrong."""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import Iterable

from tests.oracle import asp, sat
from tests.oracle.brute import TooMany
from tests.oracle.sums import NoNumber
from tests.oracle.translate import Unsupported

LEFT_OUT = (sat.TooMany, asp.TooMany, TooMany, Unsupported, NoNumber)


class Run:
    """Counts by name, and what was wrong by question, each with what reproduces it."""

    def __init__(self, first: int) -> None:
        self.first, self.last = first, first - 1
        self.seen: Counter[str] = Counter()
        self.wrong: dict[str, list[str]] = defaultdict(list)

    def found(self, question: str, texts: Iterable[str], case: str) -> None:
        """Count one comparison, and note what was wrong with it."""
        self.seen[question] += 1
        self.wrong[question] += [f"seed {self.last}: {text}\n{case}" for text in texts]

    def first_wrong(self, *questions: str) -> str:
        """Return the first things found wrong in some questions, "" when nothing was."""
        return "\n\n".join(text for question in questions for text in self.wrong[question][:2])

    def text(self) -> str:
        """Return seeds and counts as one line."""
        counts = ", ".join(f"{name} {count}" for name, count in sorted(self.seen.items()))
        return f"seeds {self.first} to {self.last}: {counts}"
