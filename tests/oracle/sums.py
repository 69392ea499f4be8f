"""The interval of a sum, by the oracle's own corners; the arithmetic itself has outside checks of its own."""

from __future__ import annotations

from itertools import product
from typing import Mapping

from tests.oracle.bands import Interval
from wizard.sums.functions import FUNCTIONS


class NoNumber(Exception):
    """A sum gives no number at some corner of its inputs."""


def spread(function: str, uncertainty: float, inputs: Mapping[str, Interval]) -> Interval:
    """Return the interval of a sum over intervals, widened by its uncertainty; raises NoNumber."""
    ends = []
    for values in product(*inputs.values()):
        try:
            ends.append(float(FUNCTIONS[function](**dict(zip(inputs, values)))))
        except (ArithmeticError, ValueError, TypeError) as error:
            raise NoNumber(str(error)) from None
    widened = [end * (1 + sign * uncertainty) for end in ends for sign in (-1, 1)]
    return Interval(min(widened), max(widened))
