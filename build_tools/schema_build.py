"""The shape of a build: what a customer has said, in a worked build or in a file to be answered."""

from __future__ import annotations

from build_tools.schema import (
    KEBAB,
    SNAKE,
    Chosen,
    Either,
    Fields,
    ListOf,
    MapOf,
    Number,
    Shape,
    Text,
    TrueFalse,
    Value,
    Word,
    may,
    need,
)

STATES = ("not_sure", "maybe", "open", "made_to_order", "none")
ATTRIBUTE_NAME = Text(r"[a-z][a-z0-9_]*\.[a-z][a-z0-9_]*", "harness.plug")

RANGE = Fields("a range", {"from": need(Number()), "to": need(Number())})
TOLD_IS = Either(scalar=Value(), sequence=ListOf(Value(), least=1), mapping=RANGE)
TOLD_MARKED = Fields("a told value", {"is": need(TOLD_IS, "What was told."), "assumed": may(TrueFalse())})
TOLD = Either(
    scalar=Value(),
    sequence=ListOf(Value(), least=1),
    mapping=Chosen("a told value", {"is": TOLD_MARKED, "from": RANGE}),
)
PART = {"family": may(SNAKE), "told": may(MapOf(SNAKE, TOLD, least=1))}
ENTRY = Fields(
    "a slot of a build",
    {
        **PART,
        "keep": may(TrueFalse()),
        "state": may(Word(STATES)),
        "one_of": may(ListOf(SNAKE, least=2)),
        "in_hand": may(ListOf(Fields("a part in hand", PART), least=1)),
    },
)
SAYS = {"is": may(Word(("yes", "no", "not_sure"))), "says": may(Word(("customer", "checked")))}


def _said(name: str, item: Shape, exactly: int = 0) -> Fields:
    return Fields("a relation", {name: need(ListOf(item, least=2, exactly=exactly)), **SAYS})


BUILD = Fields(
    "a build",
    {
        "asks": may(ListOf(SNAKE, least=1)),
        "whole_swap": may(TrueFalse()),
        "nothing_added": may(
            Either(
                scalar=TrueFalse(),
                mapping=Fields(
                    "what may still be added",
                    {
                        "except": need(
                            ListOf(Word(("buy", "make", "wire", "program", "set", "move")), least=1),
                            "The kinds of addition still allowed.",
                        ),
                    },
                ),
            )
        ),
        "slots": need(MapOf(SNAKE, Either(scalar=Word(STATES), mapping=ENTRY), least=1), "What was said of each slot."),
        "relations": may(
            ListOf(
                Chosen(
                    "a relation",
                    {
                        "came_together": _said("came_together", SNAKE),
                        "made_for": _said("made_for", SNAKE),
                        "same": _said("same", ATTRIBUTE_NAME, exactly=2),
                    },
                )
            )
        ),
        "taken_as_right": may(
            ListOf(Fields("a rule taken as right", {"rule": need(KEBAB, "The id of the rule."), "slot": may(SNAKE)}))
        ),
    },
)
