"""Which verdicts may follow which when more or less is known, and what a change of order or of names leaves alone."""

from __future__ import annotations

from typing import Any

from tests.oracle.ground import Json, scope, statement

FIRM = ("works", "will-not-work")


def verdicts(found: Json) -> tuple[Any, ...]:
    """Return what a change of order or of names must leave alone."""
    return (found["verdict"], found["refused"], found["contradiction"] is not None, found["without_assumed"],
            sorted((one["subject"], one["verdict"]) for one in found["subjects"]))


def nothing_asked(book: Json, build: Json) -> bool:
    """Return whether every rule is about a part that is said not to be there, so that nothing is looked at any more.

    A part that may be there leaves a firm verdict for the case that it is; without it there is nothing to judge.
    """
    asked = scope(book, build)
    return all(any(statement(book, build, slot).state == "none" for slot in one.needed)
               for one in (*asked.rules, *asked.taken))


def still_firm(before: Json, after: Json) -> bool:
    """Return whether a firm verdict stands; a stop that was possible may turn out to be certain."""
    possible = _possible(before)
    certain = {(one["stop"], one["slot"]) for one in after["stops"]["certain"]}
    return (after["contradiction"] is not None or after["verdict"] == before["verdict"]
            or (after["refused"] and bool(certain & possible)))


def only_a_stop_went(before: Json, after: Json) -> bool:
    """Return whether a refusal went because its stop is no longer certain, and is still possible."""
    certain = {(one["stop"], one["slot"]) for one in before["stops"]["certain"]}
    return before["refused"] and bool(certain & _possible(after))


def _possible(found: Json) -> set[tuple[str, str | None]]:
    """Return the stops named as possible, and those not named because nobody spoke of what they read."""
    return {(one["stop"], one["slot"]) for name in ("possible", "unspoken") for one in found["stops"][name]}


def moved_safely(before: Json, after: Json) -> bool:
    """Return whether a verdict with less known is no firmer and no better than before."""
    allowed = {before["verdict"], "cannot-tell"}
    if before["verdict"] == "works":
        allowed.add("works-with-additions")
    return after["verdict"] in allowed or only_a_stop_went(before, after)
