"""The parts of a listed set do not fail a rule when nothing is known but that they are those parts."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any

from build_tools.engine import Ask
from build_tools.index import Index
from build_tools.problems import Problem


def decided_by(answer: dict[str, Any]) -> str:
    """Return the rule and cases that decided an answer, as the end of a sentence; empty when none did alone."""
    by = answer["decided_by"]
    return f" by the rule '{by['rule']}', case {' or '.join(by['cases'])}" if by else ""


def check(index: Index, ask: Ask) -> Iterator[Problem]:
    """Yield a problem for each choice of families out of a set that will not work, naming the rule."""
    for record in index.of("set").values():
        slots = sorted(record.data["families"].items())
        for chosen in product(*(families for _, families in slots)):
            build = {"slots": {slot: {"family": family} for (slot, _), family in zip(slots, chosen)}}
            answer = ask(build)
            if answer["verdict"] == "will-not-work" or answer["contradiction"]:
                yield record.problem(
                    ("families",),
                    "matched-set-fails",
                    f"{' and '.join(chosen)} are listed as matched and will not work together{decided_by(answer)}.",
                    "Correct the set, a value of one of the families, or the rule.",
                )
