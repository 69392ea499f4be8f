"""Plain text of the facts shows on a page exactly as it was written, and tests read as sentences."""

from __future__ import annotations

import re
from html import unescape

import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.config import ROOT
from build_tools.pages.describe import condition, told
from build_tools.pages.places import Links, href, place
from build_tools.pages.text import day, either, md, number, percent, span
from tests.site.building import real_book

PRINTED = st.characters(min_codepoint=32, max_codepoint=0x2FFF, exclude_categories=("Cs", "Cc", "Zl", "Zp", "Cn"))
EXTENSIONS = ["attr_list", "md_in_html", "tables", "toc"]


def shown(text: str) -> str:
    """Return the words a reader sees when the Markdown is a paragraph of its own."""
    page = markdown.markdown(f'<p markdown="span">{text}</p>', extensions=EXTENSIONS)
    return " ".join(unescape(re.sub(r"<[^>]*>", "", page)).split())


@given(st.text(PRINTED, min_size=1, max_size=40).filter(lambda text: text.strip()))
def test_any_text_shows_letter_by_letter(text: str) -> None:
    assert shown(md(text)) == " ".join(text.split())


@pytest.mark.parametrize("text", [
    "1. not a list", "- not a list", "# not a heading", "a_b_c and *x* and `y`", "a | b", "<script>alert(1)</script>", "[text](link)",
    "&amp; stays", "{#not-an-id}", "5 < 6 > 4", r"back\slash", "![image](x)", "~struck~",
])
def test_text_that_looks_like_markup_stays_text(text: str) -> None:
    assert shown(md(text)) == text


def test_a_bar_in_a_table_cell_stays_in_its_cell() -> None:
    table = markdown.markdown(f"| a | b |\n|---|---|\n| {md('x | y')} | z |", extensions=EXTENSIONS)

    assert [unescape(cell) for cell in re.findall(r"<td>(.*?)</td>", table)] == ["x | y", "z"]


def test_numbers_ranges_dates_and_lists_read_as_words() -> None:
    assert number(1609344) == "1\u202f609\u202f344"
    assert number(-0.5) == "\u22120.5"
    assert number(4000) == "4000"
    assert span(3, 5, "A") == "3 to 5\u00a0A"
    assert span(4.5, 4.5, "A") == "4.5\u00a0A"
    assert percent(0.03) == "3\u00a0%"
    assert day("2026-01-09") == "9 January 2026"
    assert day(None) == "never"
    assert either(["a", "b", "c"]) == "a, b or c"


LAMP_BOOK = {
    "kinds": {"lamp": {"id": "lamp", "title": "Work lamp", "attributes": [
        {"id": "path", "title": "Return path", "type": "values", "unit": None,
         "values": [["own_wire", "by its own wire"], ["housing", "by the housing"], ["both", "by both"], ["none", "by neither"]]},
        {"id": "draw", "title": "Current", "type": "number", "unit": "A", "values": []},
        {"id": "plug", "title": "Plug", "type": "identity", "unit": None, "values": [["round", "round plug"]]}]}},
    "slots": {"left_lamp": {"kind": "lamp", "title": "Left lamp"}, "right_lamp": {"kind": "lamp", "title": "Right lamp"}},
    "sums": {"load": {"id": "load", "title": "Load", "unit": "A"}}, "families": {},
}
PLAIN = {"each": None}


@pytest.mark.parametrize(("rule", "test", "part", "must"), [
    (PLAIN, {"on": "left_lamp.path", "in": ["own_wire"]}, "Left lamp", "by its own wire"),
    (PLAIN, {"on": "left_lamp.path", "in": ["housing", "own_wire"]}, "Left lamp", "by its own wire or by the housing"),
    (PLAIN, {"on": "left_lamp.path", "in": ["both", "housing", "own_wire"]}, "Left lamp", "anything but: by neither"),
    (PLAIN, {"on": "left_lamp.plug", "in": ["other"]}, "Left lamp", "another one"),
    (PLAIN, {"on": "left_lamp.fitted", "in": ["no"]}, "Left lamp", "no"),
    (PLAIN, {"on": "left_lamp.draw", "low": 3, "low_open": False, "high": 5, "high_open": False}, "Left lamp", "from 3 to 5\u00a0A"),
    (PLAIN, {"on": "left_lamp.draw", "low": 3, "low_open": True, "high": None, "high_open": False}, "Left lamp", "above 3\u00a0A"),
    (PLAIN, {"on": "left_lamp.draw", "low": None, "low_open": False, "high": 5, "high_open": True}, "Left lamp", "below 5\u00a0A"),
    (PLAIN, {"on": "sum.load", "low": 3, "low_open": False, "high": None, "high_open": False}, "Sum", "at least 3\u00a0A"),
    (PLAIN, {"on": "left_lamp.plug", "same_as": "right_lamp.plug", "is": False}, "Left lamp",
     "different from Right lamp: [Plug](../parts/lamp.md#plug)"),
    ({"each": {"one": "lamp"}}, {"on": "one.path", "in": ["housing"]}, "Each work lamp", "by the housing"),
])
def test_a_test_of_a_rule_reads_as_words(rule: dict, test: dict, part: str, must: str) -> None:
    said = condition(Links(LAMP_BOOK, "rules/x.md"), rule, test)

    assert (said.part, said.must) == (part, must)


def test_a_relation_reads_as_words_with_its_parts() -> None:
    said = condition(Links(LAMP_BOOK, "rules/x.md"), PLAIN, {"relation": "came_together", "of": ["left_lamp", "right_lamp"], "is": "yes"})

    assert said.what == "The left lamp and the right lamp came from one donor, unaltered"
    assert said.must == "yes"


def test_a_value_that_is_one_of_several_names_them_all() -> None:
    path, draw = LAMP_BOOK["kinds"]["lamp"]["attributes"][:2]

    assert told(path, ["housing", "own_wire"]) == "by the housing or by its own wire"
    assert told(draw, {"from": 3, "to": 5}) == "3 to 5\u00a0A"


def test_links_between_pages_lead_from_one_file_to_the_other() -> None:
    book = real_book()
    family = sorted(book["families"])[0]
    kind = book["families"][family]["kind"]

    assert href("rules/x.md", place(book, "source", "s")) == "../sources/index.md#s"
    assert href("sources/index.md", place(book, "source", "s")) == "#s"
    assert href(f"parts/{kind}/{family}.md", place(book, "kind", kind)) == f"../{kind}.md"
    assert href("index.md", place(book, "rule", "r")) == "rules/r.md"


def test_the_pages_of_this_project_leave_no_key_of_a_case_untold() -> None:
    """A key that the compiled cases gain must be shown or left out on purpose, here."""
    keys = {key for rule in real_book()["rules"].values() for case in rule["cases"] for key in case}

    assert keys == {"case", "verdict", "because", "when", "additions", "goes_wrong", "codes", "cautions", "sources"}


def test_no_template_decides_a_verdict() -> None:
    """Templates may show a verdict; only the engine may compare one with another."""
    compares = re.compile(r"verdict\s*(==|!=|<|>|\bin\b)")
    found = [(file.name, line) for file in sorted((ROOT / "build_tools/pages/templates").glob("*.j2"))
             for line in file.read_text("utf-8").splitlines() if compares.search(line)]

    assert found == []
