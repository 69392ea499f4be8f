"""Numbers as bands: constants that rules name cut a quantity's line, and the band is what a rule sees.

With cuts c0 < c1 < ... band 2i is the open interval below c_i (above c_{i-1}) and band 2i+1 is the point c_i, so that
`at most` and `below` differ. A quantity known as an interval may lie in every band that the interval touches.
"""
from __future__ import annotations

from itertools import product
from math import ceil, floor, inf, isfinite
from typing import Callable, Sequence

Span = tuple[float, float]


def band_count(cuts: Sequence[float]) -> int:
    """How many bands the cuts make: each point, and each gap around them."""
    return 2 * len(cuts) + 1


def span_mask(cuts: Sequence[float], low: float, high: float, whole: bool = False) -> int:
    """The bands that the closed interval [low, high] touches; of whole numbers, only bands that hold one."""
    mask = 0
    for i in range(len(cuts) + 1):
        left = cuts[i - 1] if i else -inf
        right = cuts[i] if i < len(cuts) else inf
        a, b = max(left, low), min(right, high)
        if a < b or (a == b and left < a < right):
            if not whole or _whole_inside(left, right, low, high):
                mask |= 1 << (2 * i)
        if i < len(cuts) and low <= right <= high and (not whole or right == floor(right)):
            mask |= 1 << (2 * i + 1)
    return mask


def _whole_inside(left: float, right: float, low: float, high: float) -> bool:
    first = max(floor(left) + 1 if isfinite(left) else -inf, ceil(low) if isfinite(low) else -inf)
    last = min(ceil(right) - 1 if isfinite(right) else inf, floor(high) if isfinite(high) else inf)
    return first <= last


def limit_mask(cuts: Sequence[float], low: float | None, low_open: bool, high: float | None, high_open: bool) -> int:
    """The bands that lie wholly inside a rule's limits; the limits are among the cuts."""
    low = -inf if low is None else low
    high = inf if high is None else high
    mask = 0
    for i in range(len(cuts) + 1):
        left = cuts[i - 1] if i else -inf
        right = cuts[i] if i < len(cuts) else inf
        if left >= low and right <= high:
            mask |= 1 << (2 * i)
        if i < len(cuts):
            above = right > low if low_open else right >= low
            below = right < high if high_open else right <= high
            if above and below:
                mask |= 1 << (2 * i + 1)
    return mask


def band_text(cuts: Sequence[float], mask: int) -> tuple[float, float]:
    """The hull of the bands in `mask`, for wording: (low, high), infinite where open-ended."""
    lows, highs = [], []
    for i in range(band_count(cuts)):
        if mask >> i & 1:
            lows.append(cuts[i // 2] if i % 2 else (cuts[i // 2 - 1] if i else -inf))
            highs.append(cuts[i // 2] if i % 2 or i // 2 < len(cuts) else inf)
    return min(lows), max(highs)


def widen(span: Span, fraction: float) -> Span:
    """The interval with `fraction` of each end's size added outwards."""
    return span[0] - abs(span[0]) * fraction, span[1] + abs(span[1]) * fraction


def corners(function: Callable[..., float], spans: dict[str, Span]) -> Span | None:
    """The range of a function that is monotone in each input, from all corners; None where it gives no number.

    The corner that fails (out of range, division by zero) makes the whole range unknown rather than narrower.
    """
    names = sorted(spans)
    values = []
    for corner in product(*(sorted(set(spans[n])) for n in names)):
        try:
            value = float(function(**dict(zip(names, corner))))
        except (ArithmeticError, ValueError, TypeError):
            return None
        if value != value:
            return None
        values.append(value)
    return min(values), max(values)
