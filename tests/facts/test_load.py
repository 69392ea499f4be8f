"""Reading a file keeps the line of every value and takes nothing for what it only looks like."""

from __future__ import annotations

import pytest
import yaml

from build_tools.load import Mapping, Scalar, Sequence, load, reading
from build_tools.problems import Problem, listed, near_match, printed

READ = [
    ("own_wire", "text"),
    ("5%", "text"),
    ("1.2.3", "text"),
    ("225/60R16", "text"),
    ("4 A", "text"),
    ("yes sir", "text"),
    ("yes", "word"),
    ("No", "word"),
    ("ON", "word"),
    ("off", "word"),
    ("true", "word"),
    ("False", "word"),
    ("y", "word"),
    ("8", "number"),
    ("-0.5", "number"),
    ("1.10", "number"),
    ("010", "odd number"),
    ("0x1F", "odd number"),
    ("0o17", "odd number"),
    ("0b11", "odd number"),
    ("1_000", "odd number"),
    ("1e3", "odd number"),
    (".5", "odd number"),
    (".inf", "odd number"),
    ("-.INF", "odd number"),
    (".nan", "odd number"),
    ("12:30", "clock"),
    ("1:02:03", "clock"),
    ("2026-11-25", "date"),
    ("2026-1-5", "date"),
    ("", "null"),
    ("~", "null"),
    ("null", "null"),
    ("Null", "null"),
]


@pytest.mark.parametrize(("text", "kind"), READ)
def test_a_bare_value_is_told_from_text(text: str, kind: str) -> None:
    assert reading(Scalar(text, True, 1)) == kind


@pytest.mark.parametrize("text", [text for text, _ in READ])
def test_a_quoted_value_is_always_text(text: str) -> None:
    assert reading(Scalar(text, False, 1)) == "text"


@pytest.mark.parametrize("text", [text for text, kind in READ if kind == "text"])
def test_what_is_taken_for_text_is_text_to_yaml_too(text: str) -> None:
    assert yaml.safe_load(text) == text


@pytest.mark.parametrize("number", ["0", "7", "-3", "+4", "12.5", "0.25", "-0.125", "100000"])
def test_a_plain_number_is_the_number_yaml_reads(number: str) -> None:
    assert reading(Scalar(number, True, 1)) == "number"
    assert yaml.safe_load(number) == float(number)


def test_every_value_keeps_its_line() -> None:
    node, problems = load(
        b"kind: lamp\nlist:\n  - one\n  - {deep: two,\n     more: three}\ntext: >\n  folded\n", "f.yaml"
    )

    assert problems == []
    assert isinstance(node, Mapping)
    lines = {key.text: key.line for key, _ in node.pairs}
    assert lines == {"kind": 1, "list": 2, "text": 6}
    listed_node = node.pairs[1][1]
    assert isinstance(listed_node, Sequence)
    inner = listed_node.items[1]
    assert isinstance(inner, Mapping)
    assert [(key.line, value.line) for key, value in inner.pairs] == [(4, 4), (5, 5)]


def test_a_merge_key_is_no_way_around_the_ban_on_repeating() -> None:
    _, problems = load(b"base: &b {x: 1}\nother:\n  <<: *b\n", "f.yaml")

    assert [problem.check for problem in problems] == ["anchor-or-alias", "anchor-or-alias"]


def test_a_windows_file_reads_like_any_other() -> None:
    node, problems = load(b"kind: lamp\r\ntitle: Lamp\r\n", "f.yaml")

    assert problems == []
    assert isinstance(node, Mapping)
    assert [(key.text, value.text) for key, value in node.pairs] == [("kind", "lamp"), ("title", "Lamp")]


def test_a_problem_reads_as_place_what_allowed_near_and_where_to_read_on() -> None:
    problem = Problem("facts/x.yaml", 12, "'styl' is not a style.", "unknown-value", "Its values: style.", "style")

    assert printed(problem) == (
        "facts/x.yaml:12  'styl' is not a style. Its values: style. Did you mean 'style'? [unknown-value] See DEVELOPERS.md#unknown-value"
    )


def test_a_near_match_is_given_only_where_one_is_near() -> None:
    assert near_match("throttle_bodi", ["throttle_body", "pedal"]) == "throttle_body"
    assert near_match("zebra", ["throttle_body", "pedal"]) == ""


def test_a_very_long_list_is_cut_and_says_by_how_much() -> None:
    assert listed([f"v{number:02}" for number in range(20)]).endswith("v15 and 4 more.")
    assert listed([]) == ""
