"""Numbers cut at the constants a book names: the oracle's own cutting, from the same agreement as the engine's."""

from __future__ import annotations

import math
from typing import Any, Iterable, NamedTuple

from tests.oracle.held import once_a_book


class Band(NamedTuple):
    """A single point (low == high) or the open stretch between two points."""

    low: float
    high: float

    @property
    def is_point(self) -> bool:
        """True when the band is one number."""
        return self.low == self.high


class Interval(NamedTuple):
    """A closed interval of numbers."""

    low: float
    high: float


@once_a_book
def constants(book: dict[str, Any]) -> dict[str, list[float]]:
    """Return, per `kind.attribute` and per `sum.id`, every constant a rule or a stop compares it with."""
    found: dict[str, set[float]] = {}
    for record in [*book["rules"].values(), *book["stops"].values()]:
        each = record.get("each") or {}
        rows = [row for case in record["cases"] for row in case["when"]] if "cases" in record else record["when"]
        for test in (test for row in rows for test in row):
            if "low" not in test:
                continue
            place, attr = test["on"].split(".")
            kind = each.get(place) or (place if place == "sum" else book["slots"][place]["kind"])
            numbers = [test[end] for end in ("low", "high") if isinstance(test[end], (int, float))]
            found.setdefault(f"{kind}.{attr}", set()).update(map(float, numbers))
    return {key: sorted(values) for key, values in found.items()}


def cut(low: float, high: float, points: Iterable[float], whole: bool = False) -> list[Band]:
    """Cut [low, high] into points and open stretches; with `whole`, stretches holding no whole number are left out."""
    edges = sorted({low, high, *(p for p in points if low < p < high)})
    bands: list[Band] = []
    for here, after in zip(edges, [*edges[1:], None]):
        bands.append(Band(here, here))
        if after is not None:
            bands.append(Band(here, after))
    return [b for b in bands if touches(b, Interval(low, high), whole)]


def touches(band: Band, interval: Interval, whole: bool = False) -> bool:
    """Return whether some number (whole if asked) lies both in the band and in the interval."""
    if band.is_point:
        return interval.low <= band.low <= interval.high and (not whole or float(band.low).is_integer())
    if not (interval.low < band.high and interval.high > band.low):
        return False
    if not whole:
        return True
    first = max(math.floor(band.low) + 1, math.ceil(interval.low))
    last = min(math.ceil(band.high) - 1, math.floor(interval.high))
    return first <= last


def inside(band: Band, low: float | None, low_open: bool, high: float | None, high_open: bool) -> bool:
    """Return whether every number of the band meets the limits; bands are cut so that all do or none does."""
    if low is not None:
        enough = band.low > low or (band.low == low and (not band.is_point or not low_open))
        if not enough:
            return False
    if high is not None:
        return band.high < high or (band.high == high and (not band.is_point or not high_open))
    return True


def signs(left: Interval, right: Interval) -> list[int]:
    """Return which of -1, 0, 1 the sign of left minus right can be."""
    found = []
    if left.low < right.high:
        found.append(-1)
    if left.low <= right.high and right.low <= left.high:
        found.append(0)
    if left.high > right.low:
        found.append(1)
    return found
