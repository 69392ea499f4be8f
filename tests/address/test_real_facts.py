"""Addresses of builds from the project's own facts: there and back, and short enough to send."""

from __future__ import annotations

import json
from functools import lru_cache

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from build_tools.compile import book_text, compile_book
from build_tools.config import configured_layers
from build_tools.index import index
from build_tools.records import gather
from tests.address.builds import builds
from wizard.engine.address import from_address, to_address
from wizard.engine.build import read_build
from wizard.engine import Book, load

PARTS, LONGEST = 15, 900


@lru_cache(maxsize=1)
def facts() -> Book:
    """Return the project's own book."""
    return load(book_text(compile_book(index(gather(configured_layers())))))


@given(st.data())
@settings(max_examples=25, phases=[Phase.generate])
def test_builds_from_the_facts_come_back_with_the_meaning_they_had(data):
    book = facts()
    build = data.draw(builds(book))
    back, unused = from_address(book, to_address(book, build))

    assert unused == []
    assert read_build(book, json.dumps(back)) == read_build(book, json.dumps(build))


def test_every_worked_build_comes_back_from_its_address():
    book = facts()
    for name, record in sorted(book.data["builds"].items()):
        back, unused = from_address(book, to_address(book, record["build"]))

        assert unused == [], name
        assert read_build(book, json.dumps(back)) == read_build(book, json.dumps(record["build"])), name


def test_fifteen_parts_fit_an_address_of_nine_hundred_characters():
    book = facts().data
    longest = {slot: max((name for name, one in book["families"].items() if one["kind"] == record["kind"]), key=len, default=None)
               for slot, record in book["slots"].items()}
    listed = sorted((slot for slot, family in longest.items() if family), key=lambda slot: -len(slot + longest[slot]))[:PARTS]
    build = {"slots": {slot: {"family": longest[slot]} for slot in listed},
             "relations": [{"came_together": sorted(listed)[:4], "is": "yes"}], "asks": sorted(book["subjects"])[:2]}
    told = {"throttle_body": {"bore": 75.5}, "controller": {"software": "unknown"}, "pedal": {"actuation": {"is": "sensor", "assumed": True}}}
    for slot, values in told.items():
        build["slots"].setdefault(slot, {}).update(told=values, keep=True)
    address = to_address(facts(), build)

    assert len(listed) == PARTS
    assert len(address) <= LONGEST
