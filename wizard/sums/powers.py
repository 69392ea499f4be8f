"""Powers and logarithms from plain arithmetic, so that every runtime gives the same last digit.

The C libraries under CPython and under the browser's Python round `pow`, `log` and `exp` differently now and
then; addition, multiplication, division, square roots and `frexp` they round alike.
"""
from __future__ import annotations

import math

LN_2 = 0.6931471805599453


def natural_log(value: float) -> float:
    """Return the natural logarithm of a number over 0 to within a few units of the last digit; ValueError at 0 or under.

    Formula: m × 2^e with m near 1; ln m = 2 (s + s³/3 + s⁵/5 ...), s = (m - 1) / (m + 1).
    """
    if not value > 0.0:
        raise ValueError(f"the logarithm of {value} does not exist")
    mantissa, exponent = math.frexp(value)
    if mantissa < 0.7071067811865476:
        mantissa, exponent = 2.0 * mantissa, exponent - 1
    ratio = (mantissa - 1.0) / (mantissa + 1.0)
    square, total = ratio * ratio, 0.0
    for odd in range(27, 0, -2):
        total = total * square + 1.0 / odd
    return 2.0 * ratio * total + exponent * LN_2


def natural_exp(value: float) -> float:
    """Return e to a power to within a few units of the last digit; OverflowError above about 709.

    Formula: 2^k × (1 + r + r²/2! + ...), k whole, r within half of ln 2.
    """
    whole = math.floor(value / LN_2 + 0.5)
    rest, total = value - whole * LN_2, 1.0
    for term in range(20, 0, -1):
        total = 1.0 + total * rest / term
    return math.ldexp(total, whole)


def power(base: float, exponent: float) -> float:
    """Return a base over 0 to any exponent; ValueError at 0 or under. Formula: e^(exponent × ln base)."""
    return natural_exp(exponent * natural_log(base))
