"""The guide for people who write facts shows one sound, complete example of each record and names every key."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import Any

from build_tools.checks import check_facts
from build_tools.load import Mapping, load
from build_tools.records import Layer, gather
from build_tools.schema import Chosen, Either, Fields, ListOf, MapOf
from build_tools.schema_records import KNOWN_GAPS, TYPES
from tests.facts.examples import GUIDE, guide_examples, lay_out

TODAY = date(2026, 11, 25)


def keys_of(shape: Any, seen: set[int]) -> set[str]:
    """Return every key that a shape names, at any depth."""
    if shape is None or id(shape) in seen:
        return set()
    seen.add(id(shape))
    if isinstance(shape, Fields):
        return set(shape.keys) | {name for key in shape.keys.values() for name in keys_of(key.shape, seen)}
    if isinstance(shape, Chosen):
        return {name for one in shape.by.values() for name in keys_of(one, seen)}
    if isinstance(shape, Either):
        return keys_of(shape.scalar, seen) | keys_of(shape.sequence, seen) | keys_of(shape.mapping, seen)
    if isinstance(shape, ListOf):
        return keys_of(shape.item, seen)
    if isinstance(shape, MapOf):
        return keys_of(shape.value, seen) | {name for one in shape.special.values() for name in keys_of(one, seen)}
    return set()


def test_the_examples_of_the_guide_have_no_problems(tmp_path: Path) -> None:
    facts = gather([Layer(lay_out(tmp_path / "lamps"), "lamps")])

    problems = check_facts(facts, TODAY)

    assert problems == []
    assert len(facts.records) == len(guide_examples()) - 1  # all but the list of known gaps


def test_the_guide_has_an_example_of_every_type_of_record() -> None:
    shown = set()
    for name, text in guide_examples().items():
        node, problems = load(text.encode(), name)
        assert isinstance(node, Mapping), problems
        shown.add(node.pairs[0][0].text)

    assert shown == set(TYPES) | {"known_gaps"}


def test_the_guide_names_every_key() -> None:
    guide = GUIDE.read_text("utf-8")
    keys = keys_of(KNOWN_GAPS, set()).union(*(keys_of(shape, set()) for shape in TYPES.values()))

    missing = sorted(
        key for key in keys if not re.search(rf"(?<![a-z_]){key}: |`{key}[:`]|(?<![a-z_]){key}:$", guide, re.MULTILINE)
    )

    assert len(keys) > 100
    assert missing == []


def test_the_guide_shows_every_key_in_an_example_or_says_what_it_is_for() -> None:
    examples = "\n".join(guide_examples().values())
    prose = re.sub(r"^```.*?^```", "", GUIDE.read_text("utf-8"), flags=re.MULTILINE | re.DOTALL)
    keys = keys_of(KNOWN_GAPS, set()).union(*(keys_of(shape, set()) for shape in TYPES.values()))

    only_in_prose = sorted(key for key in keys if not re.search(rf"(?<![a-z_]){key}:", examples))

    assert [key for key in only_in_prose if key not in prose] == []
    assert len(only_in_prose) < len(keys) / 4
