"""What cutting numbers into bands costs: a banded answer beside the answers for many exact numbers within what was told.

The engine looks at each sum and each comparison by itself, so that two of them over one number may take values that no
one number gives them. That errs to `cannot tell`. Here every number told is drawn exactly, many times over, from a
book without uncertainty of telling: if all these answers are the same and firm, the cutting may have cost a firm one.
"""

from __future__ import annotations

import copy
import json
from random import Random
from typing import Any, Iterator, NamedTuple

from tests.oracle.bands import Interval, constants
from tests.oracle.ground import Json, instances, statement
from tests.oracle.parts import Kind, all_kinds, is_said, known_interval
from tests.oracle.real_builds import random_real_build
from wizard.engine import Book
from wizard.engine.build import read_build
from wizard.engine.model import VERDICTS
from wizard.engine.report import judge

GOOD = ("works", "works-with-additions")
DRAWS, AGAIN = 24, 400
WIDTHS = (0.0, 0.02, 0.05, 0.1, 0.2)


class Cost(NamedTuple):
    """What one build came to: banded, and the verdicts met with exact numbers; how many numbers were drawn."""

    banded: str | None
    exact: tuple[str | None, ...]
    numbers: int

    @property
    def broken(self) -> bool:
        """Whether some exact numbers come to what a firm banded verdict rules out."""
        if self.banded == "works":
            return any(one not in ("works", None) for one in self.exact)
        if self.banded == "works-with-additions":
            return any(one not in (*GOOD, None) for one in self.exact)
        return self.banded == "will-not-work" and any(one not in ("will-not-work", None) for one in self.exact)

    @property
    def may_be_lost(self) -> bool:
        """Whether all exact numbers so far come to one firm verdict that the bands could not give."""
        left = [one for one in self.exact if one is not None]
        firm = all(one in GOOD for one in left) or all(one == "will-not-work" for one in left)
        return self.banded == "cannot-tell" and firm

    @property
    def lost(self) -> bool:
        """The same, after enough numbers."""
        return self.may_be_lost and sum(one is not None for one in self.exact) >= DRAWS // 2


def joint_subjects(book: Json) -> list[str]:
    """Return the subjects with a rule that reads a sum or holds one number against another."""
    def joint(test: Json) -> bool:
        return "low" in test and (test["on"].startswith("sum.") or isinstance(test["low"], str)
                                  or isinstance(test["high"], str))
    return sorted({rule["subject"] for rule in book["rules"].values()
                   for one in instances(book, rule) if any(joint(test) for test in one.tests)})


def without_bands(book: Json) -> Json:
    """Return a book in which a told number is just that number."""
    new = copy.deepcopy(book)
    for kind in new["kinds"].values():
        for attribute in kind["attributes"]:
            attribute["band"] = 0
    return new


def vague_build(seed: int, book: Json, kinds: dict[str, Kind], subjects: list[str]) -> Json:
    """Return a seeded build about one subject, nothing ours to choose, its numbers told as more or less wide ranges."""
    rng = Random(seed)
    build = random_real_build(seed, book, kinds, [rng.choice(subjects)])
    slots = {slot: "not_sure" if _ours(said) else said for slot, said in build["slots"].items()}
    for slot, said in slots.items():
        if isinstance(said, dict) and "told" in said:
            kind = kinds[book["slots"][slot]["kind"]]
            told = {attr: _wide(rng, kind, attr, value) for attr, value in said["told"].items()}
            slots[slot] = {**said, "told": told}
    return {**build, "slots": slots}


def _ours(said: Any) -> bool:
    return said in ("open", "made_to_order") or isinstance(said, dict) and ("in_hand" in said or "state" in said)


def _wide(rng: Random, kind: Kind, attr: str, value: Any) -> Any:
    one = kind.attributes[attr]
    if one["type"] != "number" or not isinstance(value, (int, float)):
        return value
    width = abs(value) * rng.choice(WIDTHS)
    low, high = max(one["low"], value - width), min(one["high"], value + width)
    if one["whole"]:
        low, high = round(low), round(high)
    return {"from": low, "to": high} if low < high else value


def drawn_numbers(book: Json, kinds: dict[str, Kind], build: Json) -> dict[tuple[str, str], tuple[Interval, bool]]:
    """Return the numbers of a build that surely are and are known to lie in a range, each with whether it is whole."""
    found = {}
    for slot, said in build["slots"].items():
        about = statement(book, build, slot)
        if about.state not in ("part", "not_sure") or len(about.options) != 1 or said == "not_sure":
            continue
        kind, option = kinds[book["slots"][slot]["kind"]], about.options[0]
        for attr, one in kind.attributes.items():
            if one["type"] == "number" and (is_said(book, option, attr) or not one["applies_when"]):
                span = known_interval(book, kind, option, attr)
                if span is not None and span.low < span.high and (attr in option.told or not one["told_only"]):
                    found[slot, attr] = (span, one["whole"])
    return found


def draws(rng: Random, book: Json, build: Json, numbers: dict[tuple[str, str], tuple[Interval, bool]],
          times: int) -> Iterator[Json]:
    """Yield builds with these numbers drawn exactly: anywhere, at the ends, and at the limits that rules name."""
    points = constants(book)
    for _ in range(times):
        slots = {slot: dict(said) if isinstance(said, dict) else said for slot, said in build["slots"].items()}
        for (slot, attr), (span, whole) in numbers.items():
            limits = [p for p in points.get(f"{book['slots'][slot]['kind']}.{attr}", []) if span.low <= p <= span.high]
            value = rng.choice([rng.uniform(*span), rng.uniform(*span), *span, *limits])
            if whole:
                value = min(max(round(value), -(-span.low // 1)), span.high // 1)
            slots[slot]["told"] = {**slots[slot].get("told", {}), attr: value}
        yield {**build, "slots": slots}


def cost(seed: int, book: Json, banded: Book, exact: Book, subjects: list[str]) -> Cost | None:
    """Return what the cutting costs on the build of one seed; None when there is no number to draw."""
    build = vague_build(seed, book, all_kinds(book), subjects)
    return cost_of(Random(seed), book, banded, exact, build)


def cost_of(rng: Random, book: Json, banded: Book, exact: Book, build: Json) -> Cost | None:
    """Return what the cutting costs on a build; a loss is only told after many more draws have not refuted it."""
    numbers = drawn_numbers(book, all_kinds(book), build)
    if not numbers:
        return None
    found = Cost(_verdict(banded, build), (), len(numbers))
    for times in (DRAWS, AGAIN):
        for one in draws(rng, book, build, numbers, times):
            found = found._replace(exact=(*found.exact, _verdict(exact, one)))
            if found.banded == "cannot-tell" and not found.may_be_lost:
                return found
        if not found.lost:
            return found
    return found


def _verdict(book: Book, build: Json) -> str | None:
    """Return the verdict on the rules asked, whatever a stop says."""
    found = judge(book, read_build(book, json.dumps(build)), frozenset(), brief=True)
    return None if found.verdict is None else VERDICTS[found.decision.verdict]
