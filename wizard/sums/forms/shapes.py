"""The shapes that every sum shares: what goes in, what is known of it, what comes out, and a refusal."""
from __future__ import annotations

from typing import Callable, NamedTuple

Source = tuple[str, str]        # (published | common-practice | from-memory | measured | invented, text)

ARITHMETIC: Source = ("common-practice", "Arithmetic from the definitions of the units; no source needed.")


class Param(NamedTuple):
    """One input: `low` to `high` is what is physically plausible, in `unit`; `measure` says how to get the number.

    `usual` is a value to start a form from, never used without being told. `reads` names a reader of text in
    `readers.READERS`, for inputs that people know as a code. `falls` is true where a larger input lowers the
    result; None where the direction depends on the other inputs.
    """

    name: str
    title: str
    unit: str
    low: float
    high: float
    whole: bool = False
    measure: str = ""
    usual: float | None = None
    reads: str | None = None
    falls: bool | None = False


class Band(NamedTuple):
    """A range the trade or a rule expects the result in: an open end is None; `says` names whose judgement it is."""

    low: float | None
    high: float | None
    says: str
    source: Source


class Sum(NamedTuple):
    """One calculation. `function` takes the params as keywords in their units and returns a number in `unit`.

    Inside the ranges of `params` the function is monotone in every one of them, so over intervals its
    smallest and largest values lie at corners; `uncertainty` is the fraction by which the method itself
    may be off when every input is exact, and `spread` is that in the unit of the result, where the result
    is a difference and a fraction of it would say nothing. A sum with a table among its params returns a
    `Reading` or a refusal in place of a number. `tells` takes the same params and says in words what they mean.
    """

    name: str
    title: str
    function: Callable[..., float]
    params: tuple[Param, ...]
    unit: str
    formula: str
    monotone: str
    uncertainty: float
    digits: int
    sources: tuple[Source, ...]
    subject: str
    band: Band | None = None
    notes: tuple[str, ...] = ()
    spread: float = 0.0
    tells: Callable[..., str] | None = None


def monotone_note(params: tuple[Param, ...]) -> str:
    """Return the sentence that says which way the result moves with each input."""
    numbers = [p for p in params if p.reads != "flow_table"]
    rises = [p.title.lower() for p in numbers if p.falls is False]
    falls = [p.title.lower() for p in numbers if p.falls]
    either = [p.title.lower() for p in numbers if p.falls is None]
    parts = [f"{verb} {', '.join(names)}" for verb, names in (
        ("rises with", rises), ("falls with", falls), ("moves one way, set by the others, with", either)) if names]
    return f"The result {'; '.join(parts)}."


def make_sum(subject: str, function: Callable[..., float], title: str, params: tuple[Param, ...], unit: str,
             formula: str, sources: tuple[Source, ...], uncertainty: float = 0.0, digits: int = 4,
             band: Band | None = None, notes: tuple[str, ...] = (), spread: float = 0.0,
             tells: Callable[..., str] | None = None) -> Sum:
    """Return the `Sum` named as its function: ranges as floats, the sentence about monotony worked out from the params."""
    params = tuple(p._replace(low=float(p.low), high=float(p.high), usual=None if p.usual is None else float(p.usual))
                   for p in params)
    return Sum(function.__name__, title, function, params, unit, formula, monotone_note(params),
               uncertainty, digits, sources, subject, band, notes, spread, tells)


class Wrong(NamedTuple):
    """One input that could not be used: what was said, what was expected, how to get it."""

    name: str
    said: str
    expected: str
    measure: str


class Refusal(NamedTuple):
    """Instead of a result: `verdict` is `cannot-tell` when something is missing, `refused` when something is wrong."""

    verdict: str
    text: str
    inputs: tuple[Wrong, ...] = ()


class Input(NamedTuple):
    """An input as it was used, shown in both unit systems (`shown_other` is empty where there is only one)."""

    name: str
    title: str
    value: float
    unit: str
    shown: str
    shown_other: str


class Effect(NamedTuple):
    """The result when one input alone is lower or higher by `of`: 10 %, or 10 °C, or one for small whole numbers, or 1 % where
    10 % either way would not be plausible.

    None where the moved input would be outside what is plausible; each is shown in both unit systems, empty where
    there is only one.
    """

    name: str
    of: str
    lower: float | None
    higher: float | None
    shown_lower: str
    shown_higher: str
    other_lower: str
    other_higher: str


class Stand(NamedTuple):
    """Where the result stands to the band: `inside`, `outside`, or `undecided` within the uncertainty."""

    where: str
    says: str
    source: Source


class Result(NamedTuple):
    """A worked sum: the unrounded value, how far it may be off, each in both showings, what it means, and all it rests on."""

    name: str
    title: str
    value: float
    low: float
    high: float
    unit: str
    shown: str
    shown_other: str
    shown_low: str
    shown_high: str
    other_low: str
    other_high: str
    inputs: tuple[Input, ...]
    effects: tuple[Effect, ...]
    band: Stand | None
    tells: str
    formula: str
    monotone: str
    notes: tuple[str, ...]
    sources: tuple[Source, ...]
