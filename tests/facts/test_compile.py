"""The book has the agreed shape, whatever way the facts were written, and the same bytes each time."""

from __future__ import annotations

import hashlib
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from build_tools.compile import book_text, compile_book
from build_tools.compile_rules import written_cases
from build_tools.index import index
from build_tools.records import Layer, gather
from build_tools.statements import statements
from tests.facts.examples import ROOT, lay_out
from wizard.engine import answer, load

PROGRAM = """
import hashlib, sys
from pathlib import Path
from build_tools.compile import book_text, compile_book
from build_tools.index import index
from build_tools.records import Layer, gather
print(hashlib.sha256(book_text(compile_book(index(gather([Layer(Path(sys.argv[1]), "lamps")])))).encode()).hexdigest())
"""


def book_of(folder: Path) -> dict[str, Any]:
    return compile_book(index(gather([Layer(folder, "lamps")])))


@pytest.fixture
def book(tmp_path: Path) -> dict[str, Any]:
    return book_of(lay_out(tmp_path / "lamps"))


def test_the_book_holds_each_type_of_record_under_its_name(book: dict[str, Any]) -> None:
    assert set(book) == {
        "schema",
        "edition",
        "layers",
        "kinds",
        "slots",
        "families",
        "sets",
        "offers",
        "rules",
        "stops",
        "additions",
        "subjects",
        "sums",
        "sources",
        "find_out",
        "codes",
        "symptoms",
        "terms",
        "undrawn",
        "builds",
        "slot_order",
        "drawings",
        "faces",
        "rule_order",
        "subject_order",
    }
    assert book["schema"] == 1
    assert book["layers"] == [
        {
            "id": "lamps",
            "title": "Lamps of a make-believe workshop",
            "invented": True,
            "currency": "EUR",
            "about": "Lamps, feeds and a trolley that nobody ever built, to show what each record looks like.",
        }
    ]
    assert book["slot_order"] == ["trolley", "front_lamp", "isolating_mount", "lamp_feed", "rear_lamp"]
    assert book["rule_order"] == ["feed-carries-lamp", "counter-follows-wheel", "dimmer-stays-dry"]
    assert book["subject_order"] == ["lamp_counting", "lamp_current"]


def test_every_record_says_its_id_layer_source_and_date(book: dict[str, Any]) -> None:
    for section, records in book.items():
        if isinstance(records, dict) and section not in ("drawings", "undrawn"):
            for name, record in records.items():
                assert record["id"] == name, section
                assert record["layer"] == "lamps"
                assert record["invented"] is True
                assert {"source", "checked"} <= set(record)


def test_a_kind_lists_its_attributes_in_the_order_written(book: dict[str, Any]) -> None:
    kind = book["kinds"]["work_lamp"]

    assert [attribute["id"] for attribute in kind["attributes"]] == [
        "return_path",
        "dimmer",
        "dimmer_range",
        "draw",
        "plug",
        "bracket",
    ]
    assert kind["never"] == [{"return_path": ["housing"], "dimmer": ["fitted"]}]
    assert kind["slots"] == ["front_lamp", "rear_lamp"]
    assert kind["attributes"][2] == {
        "id": "dimmer_range",
        "title": "How far it dims",
        "ask": "How far down does the dimmer go?",
        "type": "values",
        "values": [["half", "to a half"], ["full", "to nothing"]],
        "unit": None,
        "low": None,
        "high": None,
        "band": 0,
        "whole": False,
        "reads": None,
        "applies_when": {"dimmer": ["fitted"]},
        "find_out": "look-at-lamp",
        "told_only": False,
        "source": "lamp-sheet",
        "checked": "2026-11-25",
    }
    assert {key: kind["attributes"][3][key] for key in ("type", "unit", "low", "high", "band", "whole", "values")} == {
        "type": "number",
        "unit": "A",
        "low": 0.5,
        "high": 40,
        "band": 0.05,
        "whole": False,
        "values": [],
    }
    assert {key: kind["attributes"][4][key] for key in ("type", "values", "source", "checked")} == {
        "type": "identity",
        "values": [["flat_two", "the flat plug with two pins"], ["round_two", "round, two cavities, clip on top"]],
        "source": "bench-handbook#page 12",
        "checked": "2026-10-02",
    }
    assert kind["attributes"][5]["told_only"] is True


def test_a_slot_knows_its_kind_and_what_silence_means(book: dict[str, Any]) -> None:
    assert {key: book["slots"]["isolating_mount"][key] for key in ("kind", "title", "if_unsaid", "per")} == {
        "kind": "isolating_mount",
        "title": "Isolating mount",
        "if_unsaid": "none",
        "per": "engine",
    }
    assert book["slots"]["rear_lamp"]["per"] is None


def test_a_family_says_numbers_as_ranges_and_labels_as_lists(book: dict[str, Any]) -> None:
    lamp, feed = book["families"]["bright_lamp"]["attributes"], book["families"]["plain_feed"]["attributes"]

    assert lamp["return_path"] == {
        "is": ["own_wire"],
        "depends_on": None,
        "source": "lamp-sheet",
        "checked": "2026-11-25",
    }
    assert lamp["dimmer"]["is"] == ["fitted", "absent"]
    assert lamp["dimmer"]["depends_on"] == "the letter on the label"
    assert lamp["draw"] == {
        "is": {"from": 4.5, "to": 4.5},
        "depends_on": None,
        "source": "bench-handbook#page 12",
        "checked": "2026-11-20",
    }
    assert feed["limit"]["is"] == {"from": 8, "to": 10}


def test_the_tests_of_a_rule_have_one_form(book: dict[str, Any]) -> None:
    cases = book["rules"]["feed-carries-lamp"]["cases"]

    assert cases[0]["when"] == [[{"relation": "came_together", "of": ["lamp", "lamp_feed"], "is": "yes"}]]
    assert cases[1]["when"] == [
        [
            {"on": "lamp.draw", "low": None, "low_open": False, "high": "lamp_feed.limit", "high_open": False},
            {"on": "lamp.return_path", "same_as": "lamp_feed.return_path", "is": True},
        ]
    ]
    assert cases[2]["when"] == [
        [
            {"on": "isolating_mount.material", "in": ["rubber"]},
            {"on": "lamp.draw", "low": None, "low_open": False, "high": 5, "high_open": False},
            {"on": "lamp.return_path", "in": ["housing"]},
        ]
    ]
    assert cases[-1]["when"] == [[]]
    assert cases[-1]["case"] == "otherwise"


def test_a_rule_whose_cases_cover_everything_ends_in_a_case_that_cannot_tell_and_that_nobody_wrote(book: dict[str, Any]) -> None:
    cases = book["rules"]["dimmer-stays-dry"]["cases"]

    assert cases[-1] == {
        "case": "uncovered",
        "verdict": "cannot-tell",
        "because": "The rule has no case for this, so nothing can be said.",
        "when": [[]],
        "additions": [],
        "goes_wrong": None,
        "codes": [],
        "cautions": [],
        "sources": ["lamp-sheet"],
    }
    assert [case["case"] for case in written_cases(book["rules"]["dimmer-stays-dry"])] == ["nothing-to-wet", "cover-it"]
    assert written_cases(book["rules"]["feed-carries-lamp"]) == book["rules"]["feed-carries-lamp"]["cases"]
    assert sum(one.record == "dimmer-stays-dry" for one in statements(book)) == 2


def test_parts_that_the_book_says_cannot_be_are_not_judged(tmp_path: Path) -> None:
    rule = lay_out(tmp_path / "lamps") / "rules" / "dimmer-stays-dry.yaml"
    build = {"slots": {"trolley": {"told": {"teeth": 20}}, "rear_lamp": {"told": {"dimmer": "fitted", "draw": 4}}}, "asks": ["lamp_counting"]}
    whole = json.loads(answer(load(book_text(book_of(tmp_path / "lamps"))), json.dumps(build)))
    rule.write_text(rule.read_text("utf-8").replace("{rear_lamp.dimmer: fitted}", "{rear_lamp.dimmer_range: half}"), "utf-8")

    left = json.loads(answer(load(book_text(book_of(tmp_path / "lamps"))), json.dumps(build)))

    came_to = [{case["case"]: case["verdict"] for one in found["reasons"] if one["rule"] == "dimmer-stays-dry" for case in one["cases"]}
               for found in (whole, left)]
    assert came_to == [{"cover-it": "works-with-additions"}, {"cover-it": "works-with-additions", "uncovered": "cannot-tell"}]


def test_a_case_takes_what_it_does_not_say_from_its_rule(book: dict[str, Any]) -> None:
    rule = book["rules"]["feed-carries-lamp"]
    works, adds, last = rule["cases"][1], rule["cases"][3], rule["cases"][-1]

    assert (works["codes"], works["goes_wrong"]) == ([], None)
    assert works["cautions"] == ["Let the lamp cool before you touch it."]
    assert adds["codes"] == ["P0562"]
    assert adds["goes_wrong"] == "The lamp stays dark or the fuse opens."
    assert adds["cautions"] == ["Disconnect the battery before you work on the feed."]
    assert adds["additions"] == [["return_wire"], ["swap_feed", "return_wire"]]
    assert last["goes_wrong"] == "The fuse opens with the lamp on."
    assert last["sources"] == ["lamp-sheet"]
    assert (rule["each"], rule["about"], rule["partners"], rule["helpers"]) == (
        {"lamp": "work_lamp"},
        ["lamp", "lamp_feed"],
        [],
        ["isolating_mount"],
    )


def test_an_addition_says_what_it_sets_to_what(book: dict[str, Any]) -> None:
    assert book["additions"]["return_wire"]["sets"] == {"lamp.return_path": {"to": "own_wire"}}
    assert book["additions"]["swap_feed"]["sets"] == {"lamp_feed.plug": {"same_as": "front_lamp.plug"}}
    assert book["additions"]["sealed_joint"]["needs"] == []


def test_a_worked_build_is_kept_as_it_was_given(book: dict[str, Any]) -> None:
    build = book["builds"]["bright-lamp-on-a-plain-feed"]

    assert build["build"]["slots"]["front_lamp"] == {"family": "bright_lamp", "keep": True}
    assert build["build"]["slots"]["lamp_feed"] == {
        "told": {"return_path": "own_wire", "limit": {"is": 10, "assumed": True}}
    }
    assert build["expect"] == {"verdict": "works", "mentions": ["feed-carries-lamp", "same-return"]}


def changed(tmp_path: Path, file: str, before: str, after: str) -> dict[str, Any]:
    folder = lay_out(tmp_path / "lamps")
    text = (folder / file).read_text("utf-8")
    assert before in text
    (folder / file).write_text(text.replace(before, after, 1), "utf-8")
    return book_of(folder)


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("{not: own_wire}", {"on": "lamp.return_path", "in": ["housing"]}),
        ("[own_wire, housing]", {"on": "lamp.return_path", "in": ["housing", "own_wire"]}),
        (
            "{differs_from: lamp_feed.return_path}",
            {"on": "lamp.return_path", "same_as": "lamp_feed.return_path", "is": False},
        ),
    ],
)
def test_each_way_of_writing_a_test_comes_to_its_form(tmp_path: Path, written: str, expected: dict[str, Any]) -> None:
    book = changed(
        tmp_path,
        "rules/feed-carries-lamp.yaml",
        "lamp.return_path: {same_as: lamp_feed.return_path}",
        f"lamp.return_path: {written}",
    )

    assert expected in book["rules"]["feed-carries-lamp"]["cases"][1]["when"][0]


def test_not_of_an_identity_leaves_another_one_possible(tmp_path: Path) -> None:
    book = changed(tmp_path, "rules/feed-carries-lamp.yaml", "lamp.draw: {at_most: 5}", "lamp.plug: {not: flat_two}")

    assert {"on": "lamp.plug", "in": ["other", "round_two"]} in book["rules"]["feed-carries-lamp"]["cases"][2]["when"][0]


@pytest.mark.parametrize(
    ("written", "low", "low_open", "high", "high_open"),
    [
        ("{above: 2, below: 5}", 2, True, 5, True),
        ("{at_least: 2.5, at_most: 5}", 2.5, False, 5, False),
        ("{above: lamp_feed.limit}", "lamp_feed.limit", True, None, False),
    ],
)
def test_limits_say_whether_they_belong_to_the_band(
    tmp_path: Path, written: str, low: Any, low_open: bool, high: Any, high_open: bool
) -> None:
    book = changed(tmp_path, "rules/feed-carries-lamp.yaml", "lamp.draw: {at_most: 5}", f"lamp.draw: {written}")

    assert {"on": "lamp.draw", "low": low, "low_open": low_open, "high": high, "high_open": high_open} in book["rules"][
        "feed-carries-lamp"
    ]["cases"][2]["when"][0]


def test_a_count_may_be_tested_for_one_number(tmp_path: Path) -> None:
    book = changed(tmp_path, "rules/counter-follows-wheel.yaml", 'rear_lamp.fitted: "yes"', "trolley.teeth: 40")

    assert {"on": "trolley.teeth", "low": 40, "low_open": False, "high": 40, "high_open": False} in book["rules"][
        "counter-follows-wheel"
    ]["cases"][0]["when"][0]


def test_identities_that_are_compared_share_one_list_of_values(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "lamps")
    feed = folder / "families" / "plain_feed.yaml"
    feed.write_text(feed.read_text("utf-8").replace("plug: {is: [flat_two, round_two], depends_on: the year of the feed}", "plug: round_three"), "utf-8")
    joined = book_of(folder)  # an addition copies one plug to the other
    (folder / "additions" / "swap_feed.yaml").unlink()
    apart = book_of(folder)

    assert [v for v, _ in joined["kinds"]["work_lamp"]["attributes"][4]["values"]] == ["flat_two", "round_three"]
    assert [v for v, _ in joined["kinds"]["lamp_feed"]["attributes"][1]["values"]] == ["flat_two", "round_three"]
    assert [v for v, _ in apart["kinds"]["work_lamp"]["attributes"][4]["values"]] == ["flat_two"]
    assert apart["kinds"]["lamp_feed"]["attributes"][1]["values"] == [["round_three", "round_three"]]


def test_a_value_of_an_identity_reads_as_its_kind_its_layer_or_its_face_says(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "lamps")
    kind = folder / "kinds" / "work_lamp.yaml"
    said = kind.read_text("utf-8")

    named = book_of(folder)
    kind.write_text("".join(line for line in said.splitlines(True) if "named:" not in line), "utf-8")
    drawn = book_of(folder)

    assert labels_of(named) == {"flat_two": "the flat plug with two pins", "round_two": "round, two cavities, clip on top"}
    assert labels_of(drawn) == {"flat_two": "flat, two in a row", "round_two": "round, two cavities, clip on top"}


def labels_of(book: dict[str, Any]) -> dict[str, str]:
    """Return what the values of the feed's plug read, by id."""
    return next(dict(one["values"]) for one in book["kinds"]["lamp_feed"]["attributes"] if one["id"] == "plug")


def test_the_edition_names_the_last_check_and_changes_with_any_fact(tmp_path: Path, book: dict[str, Any]) -> None:
    other = changed(tmp_path, "families/bright_lamp.yaml", "price: 180", "price: 181")

    assert re.fullmatch(r"2026-11-25\.[0-9a-f]{8}", book["edition"])
    assert other["edition"] != book["edition"]


def test_the_text_is_sorted_compact_and_kept_in_its_own_letters(book: dict[str, Any]) -> None:
    text = book_text(book)

    assert text == json.dumps(json.loads(text), sort_keys=True, separators=(",", ":"), ensure_ascii=False) + "\n"
    assert "×" in text


def test_the_same_facts_give_the_same_bytes_in_every_process(tmp_path: Path, book: dict[str, Any]) -> None:
    folder = lay_out(tmp_path / "again")
    digests = {
        subprocess.run(
            [sys.executable, "-c", PROGRAM, str(folder)],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for seed in ("1", "2")
    }

    assert digests == {hashlib.sha256(book_text(book).encode()).hexdigest()}


def test_a_face_gives_the_cavities_of_each_row_and_drawings_go_by_record(book: dict[str, Any]) -> None:
    assert book["faces"]["flat_two"]["plugs"] == [
        {"name": "plug", "outline": "rectangle", "rows": [2], "latch": "top", "ribs": ["left"]}
    ]
    assert book["drawings"] == {
        "attributes": {"work_lamp.plug": ["plug-face"]},
        "find_out": {"meter-housing": ["ground-straps"]},
        "rules": {},
    }
