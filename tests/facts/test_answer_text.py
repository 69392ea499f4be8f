"""An answer is set out as text from what it holds alone, the most important first."""

from __future__ import annotations

import copy
from typing import Any

from build_tools.answer_text import answer_text

WAYS = {
    "look": {
        "title": "Look at it",
        "steps": ["Take the cover off.", "Count the wires."],
        "hazard": "Let it cool.",
        "expect": {},
    }
}
ADDITION = {
    "addition": "lead",
    "slot": None,
    "title": "Adapter lead",
    "type": "buy",
    "do": "Buy the lead.",
    "checks": ["Measure it."],
    "cautions": ["Battery off."],
    "stock": "A-1",
    "price": 25,
    "for": ["r"],
}
ANSWER: dict[str, Any] = {
    "schema": 1,
    "edition": "2026-11-25.00000000",
    "verdict": "works-with-additions",
    "refused": False,
    "headline": "Works with additions.",
    "summary": ["It lacks a lead.", "There is 1 thing to add."],
    "contradiction": None,
    "scope": {
        "asked": ["s"],
        "whole_swap": False,
        "text": "T.",
        "not_looked_at": [{"rule": "r2", "slot": None, "title": "Another rule", "unsaid": ["x"]}],
        "checks": [{"rule": "r3", "slot": None, "title": "Bracket", "unsaid": ["x.b"], "text": "Check the bracket."}],
    },
    "stops": {
        "certain": [],
        "possible": [
            {
                "stop": "p",
                "slot": None,
                "title": "P",
                "say": "Stop the work.",
                "why": "It burns.",
                "instead": "Ask a fitter.",
                "when": "it is hot",
                "sources": [],
            }
        ],
        "hold": [
            {
                "stop": "h",
                "slot": None,
                "title": "H",
                "say": "Test the switch.",
                "why": "It may stick.",
                "instead": "Renew it.",
                "when": "",
                "sources": [],
            }
        ],
    },
    "subjects": [{"subject": "s", "title": "Sensor", "verdict": "works-with-additions"}],
    "decided_by": None,
    "rests_on": {
        "told": [{"about": "a.b", "text": "A: b"}],
        "assumed": [],
        "unknown": [{"about": "c", "text": "C: not known which"}],
    },
    "without_assumed": None,
    "reasons": [
        {
            "rule": "r",
            "slot": None,
            "title": "The lead must fit",
            "subject": "s",
            "verdict": "works-with-additions",
            "settled": True,
            "cases": [
                {
                    "case": "c",
                    "verdict": "works-with-additions",
                    "because": "The plugs differ.",
                    "goes_wrong": "No signal.",
                    "codes": ["P0135"],
                    "cautions": ["Hot."],
                    "sources": ["x"],
                }
            ],
        }
    ],
    "clash": [],
    "changes": [],
    "changes_text": "",
    "choices": [
        {
            "slot": "k",
            "title": "Controller",
            "state": "open",
            "pick": {"family": "f", "title": "Box F"},
            "find_out_first": True,
            "viable": [{"family": "f", "title": "Box F"}],
            "not_viable": [{"family": "g", "title": "Box G", "rule": "r", "case": "c", "because": "It is too old."}],
            "specification": [{"attr": "a", "title": "Driver", "values": [["x", "low side"], ["y", "high side"]]}],
        }
    ],
    "additions": {
        "certain": [ADDITION],
        "one_of": [[[ADDITION], [ADDITION]]],
        "only_if": [{"when": "it is short", "conditions": [["it is short", "unless it is old"], ["it is cut"]], "more_conditions": 2,
                     "then": [ADDITION]}],
        "more": [{"addition": "m", "slot": None, "title": "A longer lead", "type": "buy"}],
    },
    "questions": [
        {
            "ask": "a.b",
            "slot": "a",
            "attr": "b",
            "text": "How many wires?",
            "values": [["two", "two"], ["four", "four"]],
            "unit": None,
            "find_out": "look",
            "settles": ["r"],
            "leads": [{"best": "works", "worst": "works"}, {"best": "works-with-additions", "worst": "will-not-work"}],
            "bands": [],
            "with": None,
        },
        {
            "ask": "a.n",
            "slot": "a",
            "attr": "n",
            "text": "How much?",
            "values": [],
            "unit": "A",
            "find_out": None,
            "settles": [],
            "leads": [],
            "bands": [{"text": "below 5 A", "lead": {"best": "will-not-work", "worst": "will-not-work"}}],
            "with": {"ask": "a.b", "text": "How many wires?"},
        },
    ],
    "sums": [
        {
            "sum": "p",
            "title": "Pulses",
            "low": 1,
            "high": 2,
            "unit": "1/km",
            "shown": "1 to 2 1/km",
            "formula": "a × b",
            "inputs": [],
            "sources": ["x"],
        }
    ],
    "sources": [{"source": "x", "kind": "common-practice", "title": "The trade"}],
    "weakest_source": {"source": "x", "kind": "common-practice"},
    "limit_hit": False,
    "left_out": {"questions": 2, "reasons": 0, "only_if": 1, "sums": 1},
}
TEXT = """\
Works with additions.

Stop, if it is so
  - Stop the work. It burns. Ask a fitter. This holds if it is hot.

It lacks a lead. There is 1 thing to add.

Test this first
  - Test the switch. It may stick. Renew it.

Subject by subject
  Sensor: works with additions

Why
  The lead must fit: works with additions
    - The plugs differ.
      If it is wrong: No signal.
      Fault codes seen then: P0135
      Take care: Hot.

Parts to choose
  Controller: Box F (find out first, see below)
    - would do: Box F
    - not Box G: It is too old.
    - must have Driver: low side or high side

To add
  Adapter lead (buy, stock number A-1, price 25)
    - Buy the lead.
    - Check: Measure it.
    - Take care: Battery off.
  One of these ways:
    1.
    Adapter lead (buy, stock number A-1, price 25)
      - Buy the lead.
      - Check: Measure it.
      - Take care: Battery off.
    2.
    Adapter lead (buy, stock number A-1, price 25)
      - Buy the lead.
      - Check: Measure it.
      - Take care: Battery off.
  Only if
    - it is short
    - unless it is old
  or if
    - it is cut
  or in 2 more cases
  then:
    Adapter lead (buy, stock number A-1, price 25)
      - Buy the lead.
      - Check: Measure it.
      - Take care: Battery off.
  And perhaps, depending on what is still open: A longer lead

To find out
  - How many wires?
    - two: then works
    - four: more to find out, at best works with additions
    How to find out: Look at it
      1. Take the cover off.
      2. Count the wires.
      Take care: Let it cool.
  - How much?
    a number in A
    - below 5 A: then will not work
    No single answer settles this. Ask with it: How many wires?
  And 2 more questions, as these are answered.

Sums
  Pulses: 1 to 2 1/km
  a × b
  And 1 more sum, of which no input is known yet.

This rests on
  Told: A: b
  Not known: C: not known which

Checks that remain
  - Check the bracket.

Not looked at
  - Another rule

Sources
  - The trade (common practice)
  The weakest of them is common practice.

Facts edition 2026-11-25.00000000.
"""


def test_every_part_of_an_answer_has_its_place() -> None:
    assert answer_text(ANSWER, WAYS) == TEXT


def test_a_contradiction_names_the_statements() -> None:
    answer = copy.deepcopy(ANSWER) | {
        "verdict": None,
        "headline": "These statements cannot all be true.",
        "contradiction": ["A: b", "A: c"],
    }

    assert answer_text(answer, WAYS).startswith(
        "These statements cannot all be true.\n\nThese cannot all be true\n  - A: b\n  - A: c\n"
    )


def test_a_refusal_opens_with_what_to_stop() -> None:
    answer = copy.deepcopy(ANSWER)
    answer["stops"]["certain"] = [answer["stops"]["possible"][0] | {"when": ""}]

    assert "\nStop\n  - Stop the work. It burns. Ask a fitter.\n" in answer_text(answer, WAYS)


def test_a_limit_that_was_reached_is_said() -> None:
    assert answer_text(ANSWER | {"limit_hit": True}, WAYS).endswith("A limit was reached while working this out.\n")


def test_one_more_case_is_one_case() -> None:
    answer = copy.deepcopy(ANSWER)
    answer["additions"]["only_if"][0]["more_conditions"] = 1

    assert "\n  or in 1 more case\n" in answer_text(answer, WAYS)


def test_long_lines_are_folded_under_their_beginning() -> None:
    answer = copy.deepcopy(ANSWER)
    answer["reasons"][0]["cases"][0]["because"] = "Word " * 40 + "end."

    lines = answer_text(answer, WAYS).splitlines()

    start = next(number for number, line in enumerate(lines) if line.startswith("    - Word"))
    assert lines[start + 1].startswith("      Word")
    assert max(len(line) for line in lines) <= 96
