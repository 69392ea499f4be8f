"""Data link termination: what is asked, said and cited of its sums."""
from __future__ import annotations

from typing import NamedTuple

from ..data_link import termination_ohm, terminators_from_reading
from .shapes import Band, Param, Source, Sum, make_sum

TERMINATOR_OHM = 120.0
ISO_11898: Source = ("from-memory", "ISO 11898-2: 120 Ω at each end of the pair; data sheets of transceivers quote it.")
_TRADE: Source = ("common-practice", "54 to 66 Ω counts as right.")


class Meaning(NamedTuple):
    """What a reading means: `id` is stable, `text` is a whole sentence."""

    id: str
    text: str


# Upper end of each range of readings, in ohms, with what the range means.
_MEANINGS = (
    (5.0, Meaning("short", "The two wires touch each other, in a wire, a plug or a module.")),
    (35.0, Meaning("low", "Four or more terminators, or a partial short: unplug modules one at a time.")),
    (48.0, Meaning("three", "Three terminators: one module too many carries one.")),
    (54.0, Meaning("unsure", "Between two and three terminators: measure again, and look for damp and extra loads.")),
    (66.0, Meaning("two", "Two terminators, as it should be.")),
    (108.0, Meaning("unsure", "Between one and two terminators: look for a poor joint on the way to one of them.")),
    (132.0, Meaning("one", "One terminator is missing, or a wire to it is open.")),
    (float("inf"), Meaning("none", "No terminator is in reach: an open wire, a gateway in between, or another kind of bus.")),
)


def meaning_of_reading(reading_ohm: float) -> Meaning:
    """Return what a reading with the power off means; a reading of a live bus means nothing.

    Source: ranges are common practice, around the 60 ohms of two 120-ohm ends.
    """
    return next(meaning for top, meaning in _MEANINGS if reading_ohm <= top)


def what_it_means(reading_ohm: float, terminator_ohm: float) -> str:
    """Return what a reading means in a sentence; the ranges move with the resistance of one terminator."""
    return meaning_of_reading(reading_ohm * TERMINATOR_OHM / terminator_ohm).text


_ONE = Param("terminator_ohm", "Resistance of one terminator", "Ω", 50, 1000, measure="120 by the standard.", usual=120)
_POWER_OFF = ("Measure with the key off and the battery disconnected, after some minutes.",)
_READING = Param("reading_ohm", "Reading between the two wires", "Ω", 1, 1000, falls=True, usual=60,
                 measure="Ohmmeter between pins 6 and 14 of the diagnostic connector, if it is on that bus.")

SUMS: tuple[Sum, ...] = (
    make_sum("data link", termination_ohm, "Resistance of a data link",
             (Param("terminators", "Number of terminators", "terminators", 1, 8, True, "Count the modules that carry one.",
                    2, falls=True), _ONE), "Ω", "ohms of one ÷ number", (ISO_11898,), 0.01, 3,
             Band(54.0, 66.0, "54 to 66 Ω counts as right.", _TRADE), _POWER_OFF),
    make_sum("data link", terminators_from_reading, "Terminators behind a reading", (_READING, _ONE), "terminators",
             "ohms of one ÷ reading", (ISO_11898,), 0.0, 3,
             Band(1.82, 2.22, "Two, as at 54 to 66 Ω, is right.", _TRADE), _POWER_OFF, tells=what_it_means),
)
