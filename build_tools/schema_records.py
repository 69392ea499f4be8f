"""The record types: which keys each may hold and the shape of every value."""

from __future__ import annotations

from build_tools.schema import (
    KEBAB,
    LABEL,
    SENTENCE,
    SENTENCES,
    SNAKE,
    SOURCE,
    WORDS,
    Either,
    Fields,
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
)
from build_tools.schema_build import BUILD
from build_tools.schema_parts import (
    ADDITION_TYPES,
    ATTRIBUTE,
    CASE,
    CAUSES,
    CODE,
    COMMON,
    CONDITION,
    DRAWING,
    EASE,
    FAMILY_ATTRIBUTE,
    MECHANISM,
    ORDER,
    PLUG,
    ROLES,
    SLOT,
    SOURCE_KINDS,
    SYMPTOM_GROUPS,
    UNDRAWN,
    VARIABLE,
    VERDICTS,
    WHEN,
)

TYPES: dict[str, Fields] = {
    "layer": Fields(
        "a layer",
        {
            "layer": need(SNAKE),
            "title": need(WORDS),
            "invented": need(YesNo(), 'Write "yes" or "no".'),
            "about": need(SENTENCE),
            "currency": may(WORDS, "The currency of every price in the layer."),
            **COMMON,
        },
    ),
    "kind": Fields(
        "a kind",
        {
            "kind": need(SNAKE),
            "title": need(WORDS),
            "means": need(SENTENCE),
            "attributes": need(MapOf(SNAKE, ATTRIBUTE), "The attributes by id."),
            "never": may(ListOf(CONDITION, least=1), "Combinations that cannot exist."),
            "changeable": need(Word(("whole", "ways", "never")), "whole, ways or never."),
            "open_from": need(Word(("listed", "made_to_order")), "listed or made_to_order."),
            "slots": need(MapOf(SNAKE, SLOT, least=1), "The places in a build that take this kind."),
            "order": ORDER,
            **COMMON,
        },
    ),
    "subject": Fields(
        "a subject",
        {
            "subject": need(SNAKE),
            "title": need(WORDS),
            "question": need(SENTENCE, "The question it answers."),
            "always": may(YesNo(), 'Write "yes" for what is in question whenever it was told of.'),
            "order": ORDER,
            **COMMON,
        },
    ),
    "family": Fields(
        "a family",
        {
            "family": need(SNAKE),
            "kind": need(SNAKE),
            "title": need(WORDS),
            "also_called": may(ListOf(WORDS)),
            "stock": may(WORDS),
            "price": may(Number(positive=True)),
            "attributes": need(MapOf(SNAKE, FAMILY_ATTRIBUTE), "The values by attribute."),
            **COMMON,
        },
    ),
    "labels": Fields(
        "a list of labels",
        {
            "labels": need(SNAKE),
            "values": need(MapOf(LABEL, WORDS, least=1), "Values of identities, and what a customer reads for each."),
            **COMMON,
        },
    ),
    "set": Fields(
        "a set",
        {
            "set": need(SNAKE),
            "title": need(WORDS),
            "families": need(MapOf(SNAKE, ListOf(SNAKE, least=1), least=2), "Slot and families that belong together."),
            **COMMON,
        },
    ),
    "offer": Fields(
        "an offer", {"offer": need(SNAKE), "stock": may(WORDS), "price": may(Number(positive=True)), **COMMON}
    ),
    "rule": Fields(
        "a rule",
        {
            "rule": need(KEBAB),
            "title": need(WORDS),
            "mechanism": may(MECHANISM),
            "subject": need(SNAKE),
            **ROLES,
            "means": need(SENTENCE, "The mechanism in plain words."),
            "cases": need(ListOf(CASE, least=2), "The cases in order."),
            "goes_wrong": may(SENTENCE),
            "codes": may(ListOf(CODE)),
            "cautions": may(SENTENCES),
            "sources": may(ListOf(SOURCE, least=1)),
            "drawing": DRAWING,
            "undrawn": may(Word(tuple(UNDRAWN)), "Why nothing is drawn of what one sees or measures."),
            "order": ORDER,
            **COMMON,
        },
    ),
    "stop": Fields(
        "a stop",
        {
            "stop": need(KEBAB),
            "title": need(WORDS),
            "effect": need(Word(("refuse", "hold")), "refuse or hold."),
            **ROLES,
            "when": may(WHEN),
            "say": need(SENTENCE),
            "why": need(SENTENCE),
            "instead": need(SENTENCE, "Where to go."),
            "sources": may(ListOf(SOURCE, least=1)),
            "mechanism": may(MECHANISM),
            "order": ORDER,
            **COMMON,
        },
    ),
    "addition": Fields(
        "an addition",
        {
            "addition": need(SNAKE),
            "title": need(WORDS),
            "type": need(Word(ADDITION_TYPES), f"One of {', '.join(ADDITION_TYPES)}."),
            "sold": may(YesNo(), "No: to buy, make or wire, but nothing that a shop sells under one number."),
            "each": ROLES["each"],
            "changes": may(ListOf(SNAKE)),
            "sets": may(
                MapOf(VARIABLE, Either(scalar=Value(), mapping=Fields("a value", {"same_as": need(VARIABLE)})))
            ),
            "needs": may(ListOf(SNAKE)),
            "do": need(SENTENCE, "What is bought, made, wired, programmed, set or moved."),
            "checks": may(SENTENCES),
            "cautions": may(SENTENCES),
            **COMMON,
        },
    ),
    "sum": Fields(
        "a sum",
        {
            "sum": need(SNAKE),
            "title": need(WORDS),
            "function": need(SNAKE, "Its name among the calculations."),
            "inputs": need(MapOf(SNAKE, VARIABLE, least=1), "Name of each input and the attribute it comes from."),
            "unit": need(WORDS),
            "uncertainty": need(Percent(), "How far off the sum itself may be, as in 3%."),
            "digits": need(Number(whole=True, positive=True), "How many significant digits are shown."),
            "formula": need(WORDS),
            "means": may(SENTENCE),
            **COMMON,
        },
    ),
    "source": Fields(
        "a source",
        {
            "source": need(KEBAB),
            "kind": need(Word(SOURCE_KINDS), f"One of {', '.join(SOURCE_KINDS)}."),
            "title": need(WORDS),
            "publisher": may(WORDS),
            "document": may(WORDS),
            "year": may(Number(whole=True)),
            "address": may(WORDS),
            "about": may(SENTENCE),
            "checked": COMMON["checked"],
            "note": COMMON["note"],
        },
    ),
    "find_out": Fields(
        "a way to find out",
        {
            "find_out": need(KEBAB),
            "title": need(WORDS),
            "steps": need(ListOf(SENTENCE, least=1), "Whole sentences, in order."),
            "expect": may(MapOf(SNAKE, WORDS, least=1)),
            "tools": may(ListOf(WORDS)),
            "time": may(WORDS),
            "ease": need(Word(EASE), f"One of {', '.join(EASE)}."),
            "hazard": may(Text(), "A sentence, or none."),
            "drawing": DRAWING,
            **COMMON,
        },
    ),
    "face": Fields(
        "a face of a plug",
        {
            "face": need(SNAKE, "The value of the attribute that names the plug."),
            "title": need(WORDS),
            "plugs": need(MapOf(SNAKE, PLUG, least=1), "Each plug of that end, by a name of your own."),
            **COMMON,
        },
    ),
    "code": Fields(
        "a code",
        {
            "code": need(CODE),
            "title": need(WORDS),
            "means": may(SENTENCE),
            "causes": may(CAUSES, "What to check, in order, before the rules that name the code."),
            **COMMON,
        },
    ),
    "symptom": Fields(
        "a symptom",
        {
            "symptom": need(KEBAB),
            "title": need(WORDS, "What the driver would say."),
            "group": need(Word(SYMPTOM_GROUPS), f"One of {', '.join(SYMPTOM_GROUPS)}."),
            "seen": need(SENTENCE, "What is seen, and when."),
            "also_called": may(ListOf(WORDS)),
            "first": may(ListOf(SENTENCE, least=1), "What to do before anything else; needed in the group danger."),
            "stops": may(ListOf(KEBAB, least=1), "The stops that bear on it."),
            "causes": need(CAUSES, "What to check, in order."),
            "order": ORDER,
            **COMMON,
        },
    ),
    "term": Fields(
        "a term",
        {
            "term": need(SNAKE),
            "title": need(WORDS),
            "abbreviation": may(WORDS),
            "means": need(SENTENCE),
            "also_called": may(ListOf(WORDS)),
            "said_as": may(ListOf(WORDS, least=1), "The words on pages that become links, where the title and the like will not do."),
            **COMMON,
        },
    ),
    "build": Fields(
        "a worked build",
        {
            "build": need(KEBAB),
            "title": need(WORDS),
            "asked": need(WORDS, "The customer's question in their words."),
            "given": need(BUILD, "What the customer said: slots, relations and the rest of a build."),
            "expect": need(
                Fields(
                    "what is expected",
                    {
                        "verdict": need(
                            Word(VERDICTS + ("contradiction",)), f"One of {', '.join(VERDICTS)}, contradiction."
                        ),
                        "mentions": may(ListOf(WORDS)),
                    },
                )
            ),
            **COMMON,
        },
    ),
}
KNOWN_GAPS = Fields(
    "the list of known gaps",
    {
        "known_gaps": need(
            ListOf(
                Fields(
                    "a gap",
                    {
                        "gap": need(Word(("unused-attribute",))),
                        "where": need(VARIABLE),
                        "reason": need(SENTENCE, "Why it is left open."),
                    },
                ),
                least=1,
            )
        )
    },
)
CLAIMS = ("kind", "family", "labels", "set", "rule", "stop", "addition", "sum", "find_out", "face", "code", "symptom", "term")
