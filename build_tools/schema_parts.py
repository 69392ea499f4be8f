"""The shapes that several record types share: attributes, tests, cases, roles, and the closed lists of words."""

from __future__ import annotations

from build_tools.schema import (
    KEBAB,
    LABEL,
    SENTENCE,
    SENTENCES,
    SNAKE,
    SOURCE,
    WORDS,
    Chosen,
    Date,
    Either,
    Fields,
    Key,
    ListOf,
    MapOf,
    Number,
    Percent,
    Text,
    Value,
    Word,
    YesNo,
    may,
    need,
    one_or_more,
)

VERDICTS = ("works", "works-with-additions", "cannot-tell", "will-not-work")
OTHERWISE_VERDICTS = ("cannot-tell", "will-not-work")
RELATIONS = ("came_together", "made_for", "listed_together")
SOURCE_KINDS = ("common-practice", "from-memory", "invented", "measured", "published")
EASE = ("ask", "look", "count", "read", "measure", "drive", "dismantle")
ADDITION_TYPES = ("buy", "make", "wire", "program", "set", "move")
CODE = Text(r"[PBCU][0-9A-F]{4}", "P0135")
VARIABLE = Text(r"[a-z][a-z0-9_]*\.[a-z][a-z0-9_]*", "throttle_body.bore")
MECHANISM = Text(r"[A-Z][A-Z0-9]*-[0-9]+", "THR-01")
ORDER = may(Number(whole=True), "Its place in lists; records without one follow by id.")

COMMON: dict[str, Key] = {
    "source": may(SOURCE, "The source of everything in the file that names no other."),
    "checked": may(Date(), "The day somebody last checked it."),
    "note": may(WORDS, "A remark for whoever edits the file; it is not shown."),
}

IS_PART = one_or_more(LABEL)
CONDITION = MapOf(SNAKE, IS_PART, least=1)
DRAWING = may(one_or_more(KEBAB), "The drawing or drawings that settle it, by name.")
UNDRAWN = {
    "figures": "a reading or a figure decides, and a picture of a meter would not help",
    "varies": "it looks different from maker to maker, so that the part's own number, plugs or diagram settle it",
    "tried": "one does it and sees what happens",
    "glance": "it is seen at a glance",
    "left_alone": "the work is left to qualified people, and a drawing would invite others to it",
}
"""Why nothing is drawn of what a rule reads although it can be seen or measured."""

ATTRIBUTE = Fields(
    "an attribute",
    {
        "title": need(WORDS, "A few words, as a heading."),
        "ask": need(SENTENCE, "The question a customer is asked."),
        "values": may(MapOf(LABEL, WORDS, least=2), "Id and label of each value."),
        "number": may(
            Fields(
                "a number",
                {
                    "unit": need(WORDS, "The unit it is told in."),
                    "range": need(ListOf(Number(), exactly=2), "The lowest and highest plausible value."),
                    "band": may(Percent(), "How far off a told value may be."),
                    "whole": may(YesNo(), 'Write "yes" for counts.'),
                },
            ),
            "A quantity: its unit and range.",
        ),
        "identity": may(YesNo(), "An open-ended name: values are collected from the families."),
        "named": may(MapOf(LABEL, WORDS, least=1), "Labels for values of an identity."),
        "find_out": may(KEBAB, "The record that says how to find it out."),
        "told_only": may(YesNo(), "A check to make unless somebody tells it."),
        "applies_when": may(CONDITION, "The values of other attributes that it needs to exist."),
        "reads": may(Word(("tyre_size",)), "A code the number may also be told as."),
        "drawing": DRAWING,
        "source": COMMON["source"],
        "checked": COMMON["checked"],
    },
)

SLOT = Fields(
    "a slot",
    {
        "title": need(WORDS, "A few words, as a heading."),
        "if_unsaid": need(Word(("not_sure", "maybe", "none")), "What a build that does not mention it means."),
        "ask": may(SENTENCE, "Whether there is one, as a question, where `Is there a ...?` does not read well."),
        "per": may(Word(("engine", "bank", "cylinder")), "How many there are."),
        "order": ORDER,
    },
)

FAMILY_VALUE = Fields(
    "a value",
    {
        "is": need(
            Either(
                scalar=Value(),
                sequence=ListOf(Value(), least=1),
                mapping=Fields("a range", {"from": need(Number()), "to": need(Number())}),
            ),
            "The value, a list of possible values, or {from, to}.",
        ),
        "depends_on": may(WORDS, "What decides between several values."),
        "source": COMMON["source"],
        "checked": COMMON["checked"],
    },
)
FAMILY_ATTRIBUTE = Either(scalar=Value(), sequence=ListOf(Value(), least=1), mapping=FAMILY_VALUE)

PLUG = Fields(
    "a plug",
    {
        "outline": need(Word(("oval", "rectangle", "round", "triangle")), "oval, rectangle, round or triangle."),
        "cavities": need(Text(r"[1-9][0-9]?( \+ [1-9][0-9]?){0,7}", "3 + 2"), "Cavities in each row, from the top."),
        "latch": need(Word(("lever", "none", "side", "top", "wire_clip")), "lever, none, side, top or wire_clip."),
        "ribs": may(ListOf(Word(("bottom", "bottom_left", "bottom_right", "left", "right")), least=1), "Where ribs stand out."),
    },
)

LIMIT = Either(scalar=Value())
TEST_MAPPING = Fields(
    "a test",
    {
        "not": may(one_or_more(Value())),
        "same_as": may(VARIABLE),
        "differs_from": may(VARIABLE),
        "at_most": may(LIMIT),
        "at_least": may(LIMIT),
        "above": may(LIMIT),
        "below": may(LIMIT),
    },
)
TEST = Either(scalar=Value(), sequence=ListOf(Value(), least=1), mapping=TEST_MAPPING)


def _relation(name: str) -> Fields:
    return Fields("a relation", {name: need(ListOf(SNAKE, least=2)), "is": need(YesNo(), 'Write "yes" or "no".')})


RELATION_TESTS = ListOf(Chosen("a relation", {name: _relation(name) for name in RELATIONS}), least=1)
ADDITIONS = Either(
    sequence=ListOf(SNAKE, least=1),
    mapping=Fields(
        "additions", {"any_of": need(ListOf(ListOf(SNAKE, least=1), least=2), "The alternatives, preferred first.")}
    ),
)


ROW = MapOf(VARIABLE, TEST, least=1, special={"relations": RELATION_TESTS})
WHEN = Either(mapping=ROW, sequence=ListOf(ROW, least=1))

CASE_REST = {
    "because": need(SENTENCE, "A whole sentence: why this is the verdict."),
    "additions": may(ADDITIONS, "What makes it work."),
    "goes_wrong": may(SENTENCE),
    "codes": may(ListOf(CODE)),
    "cautions": may(SENTENCES),
    "sources": may(ListOf(SOURCE, least=1)),
    "note": COMMON["note"],
}
CASE = Chosen(
    "a case",
    {
        "case": Fields(
            "a case",
            {
                "case": need(KEBAB),
                "when": need(WHEN, "The tests that must hold."),
                "verdict": need(Word(VERDICTS), f"One of {', '.join(VERDICTS)}."),
                **CASE_REST,
            },
        ),
        "otherwise": Fields("a last case", {"otherwise": need(Word(VERDICTS)), **CASE_REST}),
    },
)

CAUSE = Either(
    scalar=SENTENCE,
    mapping=Fields(
        "a cause",
        {
            "cause": need(SENTENCE, "What may be wrong, and how it shows."),
            "rule": may(KEBAB, "The rule that says so."),
            "find_out": may(KEBAB, "The way to find it out."),
            "sum": may(SNAKE, "The sum that shows it."),
            "code": may(CODE, "The fault code that goes with it."),
        },
    ),
)
CAUSES = ListOf(CAUSE, least=1)
SYMPTOM_GROUPS = ("danger", "starting", "running", "pedal", "gearbox", "speed", "electrics", "heat_fuel")

ROLES = {
    "each": may(MapOf(SNAKE, SNAKE, exactly=1), "Name and kind: the rule looks at each slot of the kind by itself."),
    "about": need(ListOf(SNAKE, least=1), "The slots that must be mentioned."),
    "partners": may(ListOf(SNAKE), "Slots that count as their slot says when nobody mentions them."),
    "helpers": may(ListOf(SNAKE), "Slots that are not there unless somebody says so."),
}
