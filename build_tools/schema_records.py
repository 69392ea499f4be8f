"""The record types: which keys each may hold and the shape of every value."""

from __future__ import annotations

from build_tools.schema import (
    KEBAB, LABEL, SENTENCE, SENTENCES, SNAKE, SOURCE, WORDS, Chosen, Date, Either, Fields, Key, ListOf, MapOf,
    Number, Percent, Shape, Text, Value, Word, YesNo, may, need, one_or_more,
)
from build_tools.schema_build import BUILD

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

ATTRIBUTE = Fields("an attribute", {
    "title": need(WORDS, "A few words, as a heading."),
    "ask": need(SENTENCE, "The question a customer is asked."),
    "values": may(MapOf(LABEL, WORDS, least=2), "Id and label of each value."),
    "number": may(Fields("a number", {
        "unit": need(WORDS, "The unit it is told in."),
        "range": need(ListOf(Number(), exactly=2), "The lowest and highest plausible value."),
        "band": may(Percent(), "How far off a told value may be."),
        "whole": may(YesNo(), 'Write "yes" for counts.'),
    }), "A quantity: its unit and range."),
    "identity": may(YesNo(), "An open-ended name: values are collected from the families."),
    "named": may(MapOf(LABEL, WORDS, least=1), "Labels for values of an identity."),
    "find_out": may(KEBAB, "The record that says how to find it out."),
    "told_only": may(YesNo(), "A check to make unless somebody tells it."),
    "applies_when": may(CONDITION, "The values of other attributes that it needs to exist."),
    "reads": may(Word(("tyre_size",)), "A code the number may also be told as."),
    "source": COMMON["source"], "checked": COMMON["checked"],
})

SLOT = Fields("a slot", {
    "title": need(WORDS, "A few words, as a heading."),
    "if_unsaid": need(Word(("not_sure", "maybe", "none")), "What a build that does not mention it means."),
    "per": may(Word(("engine", "bank", "cylinder")), "How many there are."),
    "order": ORDER,
})

FAMILY_VALUE = Fields("a value", {
    "is": need(Either(scalar=Value(), sequence=ListOf(Value(), least=1), mapping=Fields("a range", {
        "from": need(Number()), "to": need(Number())})), "The value, a list of possible values, or {from, to}."),
    "depends_on": may(WORDS, "What decides between several values."),
    "source": COMMON["source"], "checked": COMMON["checked"],
})
FAMILY_ATTRIBUTE = Either(scalar=Value(), sequence=ListOf(Value(), least=1), mapping=FAMILY_VALUE)

LIMIT = Either(scalar=Value())
TEST_MAPPING = Fields("a test", {
    "not": may(one_or_more(Value())),
    "same_as": may(VARIABLE), "differs_from": may(VARIABLE),
    "at_most": may(LIMIT), "at_least": may(LIMIT), "above": may(LIMIT), "below": may(LIMIT),
})
TEST = Either(scalar=Value(), sequence=ListOf(Value(), least=1), mapping=TEST_MAPPING)


def _relation(name: str) -> Fields:
    return Fields("a relation", {name: need(ListOf(SNAKE, least=2)), "is": need(YesNo(), 'Write "yes" or "no".')})


RELATION_TESTS = ListOf(Chosen("a relation", {name: _relation(name) for name in RELATIONS}), least=1)
ADDITIONS = Either(sequence=ListOf(SNAKE, least=1), mapping=Fields("additions", {
    "any_of": need(ListOf(ListOf(SNAKE, least=1), least=2), "The alternatives, preferred first.")}))


ROW = MapOf(VARIABLE, TEST, least=1, special={"relations": RELATION_TESTS})
WHEN = Either(mapping=ROW, sequence=ListOf(ROW, least=1))

CASE_REST = {
    "because": need(SENTENCE, "A whole sentence: why this is the verdict."),
    "additions": may(ADDITIONS, "What makes it work."),
    "goes_wrong": may(SENTENCE), "codes": may(ListOf(CODE)), "cautions": may(SENTENCES), "sources": may(ListOf(SOURCE, least=1)),
    "note": COMMON["note"],
}
CASE = Chosen("a case", {
    "case": Fields("a case", {"case": need(KEBAB), "when": need(WHEN, "The tests that must hold."),
                              "verdict": need(Word(VERDICTS), f"One of {', '.join(VERDICTS)}."), **CASE_REST}),
    "otherwise": Fields("a last case", {"otherwise": need(Word(VERDICTS)), **CASE_REST}),
})

ROLES = {
    "each": may(MapOf(SNAKE, SNAKE, exactly=1), "Name and kind: the rule looks at each slot of the kind by itself."),
    "about": need(ListOf(SNAKE, least=1), "The slots that must be mentioned."),
    "partners": may(ListOf(SNAKE), "Slots that count as their slot says when nobody mentions them."),
    "helpers": may(ListOf(SNAKE), "Slots that are not there unless somebody says so."),
}

TYPES: dict[str, Fields] = {
    "layer": Fields("a layer", {
        "layer": need(SNAKE), "title": need(WORDS), "invented": need(YesNo(), 'Write "yes" or "no".'), "about": need(SENTENCE),
        "currency": may(WORDS, "The currency of every price in the layer."), **COMMON}),
    "kind": Fields("a kind", {
        "kind": need(SNAKE), "title": need(WORDS), "means": need(SENTENCE),
        "attributes": need(MapOf(SNAKE, ATTRIBUTE), "The attributes by id."),
        "never": may(ListOf(CONDITION, least=1), "Combinations that cannot exist."),
        "changeable": need(Word(("whole", "ways", "never")), "whole, ways or never."),
        "open_from": need(Word(("listed", "made_to_order")), "listed or made_to_order."),
        "slots": need(MapOf(SNAKE, SLOT, least=1), "The places in a build that take this kind."),
        "order": ORDER, **COMMON}),
    "subject": Fields("a subject", {
        "subject": need(SNAKE), "title": need(WORDS), "question": need(SENTENCE, "The question it answers."), "order": ORDER, **COMMON}),
    "family": Fields("a family", {
        "family": need(SNAKE), "kind": need(SNAKE), "title": need(WORDS), "also_called": may(ListOf(WORDS)),
        "stock": may(WORDS), "price": may(Number(positive=True)),
        "attributes": need(MapOf(SNAKE, FAMILY_ATTRIBUTE), "The values by attribute."), **COMMON}),
    "set": Fields("a set", {
        "set": need(SNAKE), "title": need(WORDS),
        "families": need(MapOf(SNAKE, ListOf(SNAKE, least=1), least=2), "Slot and families that belong together."), **COMMON}),
    "offer": Fields("an offer", {"offer": need(SNAKE), "stock": may(WORDS), "price": may(Number(positive=True)), **COMMON}),
    "rule": Fields("a rule", {
        "rule": need(KEBAB), "title": need(WORDS), "mechanism": may(MECHANISM), "subject": need(SNAKE), **ROLES,
        "means": need(SENTENCE, "The mechanism in plain words."), "cases": need(ListOf(CASE, least=2), "The cases in order."),
        "goes_wrong": may(SENTENCE), "codes": may(ListOf(CODE)), "cautions": may(SENTENCES), "sources": may(ListOf(SOURCE, least=1)),
        "order": ORDER, **COMMON}),
    "stop": Fields("a stop", {
        "stop": need(KEBAB), "title": need(WORDS), "effect": need(Word(("refuse", "hold")), "refuse or hold."), **ROLES,
        "when": may(WHEN), "say": need(SENTENCE), "why": need(SENTENCE), "instead": need(SENTENCE, "Where to go."),
        "sources": may(ListOf(SOURCE, least=1)), "mechanism": may(MECHANISM), "order": ORDER, **COMMON}),
    "addition": Fields("an addition", {
        "addition": need(SNAKE), "title": need(WORDS), "type": need(Word(ADDITION_TYPES), f"One of {', '.join(ADDITION_TYPES)}."),
        "each": ROLES["each"], "changes": may(ListOf(SNAKE)),
        "sets": may(MapOf(VARIABLE, Either(scalar=Value(), mapping=Fields("a value", {"same_as": need(VARIABLE)})))),
        "needs": may(ListOf(SNAKE)), "do": need(SENTENCE, "What is bought, made, wired, programmed, set or moved."),
        "checks": may(SENTENCES), "cautions": may(SENTENCES), **COMMON}),
    "sum": Fields("a sum", {
        "sum": need(SNAKE), "title": need(WORDS), "function": need(SNAKE, "Its name among the calculations."),
        "inputs": need(MapOf(SNAKE, VARIABLE, least=1), "Name of each input and the attribute it comes from."),
        "unit": need(WORDS), "uncertainty": need(Percent(), "How far off the sum itself may be, as in 3%."),
        "digits": need(Number(whole=True, positive=True), "How many significant digits are shown."),
        "formula": need(WORDS), "means": may(SENTENCE), **COMMON}),
    "source": Fields("a source", {
        "source": need(KEBAB), "kind": need(Word(SOURCE_KINDS), f"One of {', '.join(SOURCE_KINDS)}."), "title": need(WORDS),
        "publisher": may(WORDS), "document": may(WORDS), "year": may(Number(whole=True)), "address": may(WORDS), "about": may(SENTENCE),
        "checked": COMMON["checked"], "note": COMMON["note"]}),
    "find_out": Fields("a way to find out", {
        "find_out": need(KEBAB), "title": need(WORDS), "steps": need(ListOf(SENTENCE, least=1), "Whole sentences, in order."),
        "expect": may(MapOf(SNAKE, WORDS, least=1)), "tools": may(ListOf(WORDS)), "time": may(WORDS),
        "ease": need(Word(EASE), f"One of {', '.join(EASE)}."),
        "hazard": may(Text(), "A sentence, or none."), **COMMON}),
    "code": Fields("a code", {"code": need(CODE), "title": need(WORDS), "means": may(SENTENCE), **COMMON}),
    "term": Fields("a term", {
        "term": need(SNAKE), "title": need(WORDS), "abbreviation": may(WORDS), "means": need(SENTENCE), "also_called": may(ListOf(WORDS)), **COMMON}),
    "build": Fields("a worked build", {
        "build": need(KEBAB), "title": need(WORDS), "asked": need(WORDS, "The customer's question in their words."),
        "given": need(BUILD, "What the customer said: slots, relations and the rest of a build."),
        "expect": need(Fields("what is expected", {
            "verdict": need(Word(VERDICTS + ("contradiction",)), f"One of {', '.join(VERDICTS)}, contradiction."),
            "mentions": may(ListOf(WORDS))})), **COMMON}),
}
KNOWN_GAPS = Fields("the list of known gaps", {
    "known_gaps": need(ListOf(Fields("a gap", {
        "gap": need(Word(("unused-attribute",))), "where": need(VARIABLE), "reason": need(SENTENCE, "Why it is left open."),
    }), least=1))})
CLAIMS = ("kind", "family", "set", "rule", "stop", "addition", "sum", "find_out", "code", "term")


def shape_of(record_type: str) -> Shape:
    """Return the shape of a record type."""
    return TYPES[record_type]
