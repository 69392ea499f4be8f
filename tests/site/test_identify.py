"""The pages that narrow a part down: easy things first, no listed part lost, what was seen goes to the check, no verdict in it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from build_tools.pages.narrowing import DEEPEST, MOST_STEPS, Choice, Step, narrowing, steps_of, what_else
from tests.site.building import real_book
from tests.site.reading import ReadPage
from wizard.engine import answer, load
from wizard.engine.address import from_address

WANTED = ("airflow_sensor", "alternator", "controller", "injector", "oxygen_sensor", "pedal", "speed_source", "throttle_body", "transmission")
LINK = re.compile(r'class="db-button" href="\.\./\.\./check/#([^"]*)"')


def chosen(step: Step | None) -> Iterator[Choice]:
    """Yield every choice of a tree."""
    for choice in step.choices if step else ():
        yield choice
        yield from chosen(choice.then)


def trees() -> dict[str, Step]:
    """Return the tree of each kind that has one."""
    return {kind: step for kind in real_book()["kinds"] if (step := narrowing(real_book(), kind))}


def fits(family: dict[str, Any], told: dict[str, Any]) -> bool:
    """Return whether a family can be what was told, worked out apart from the code under test."""
    for name, value in told.items():
        held = family["attributes"].get(name)
        if held is None:
            continue
        if isinstance(held["is"], list):
            if value not in held["is"]:
                return False
        else:
            low, high = (value["from"], value["to"]) if isinstance(value, dict) else (value, value)
            if held["is"]["from"] > high * 1.15 or held["is"]["to"] < low / 1.15:
                return False
    return True


def test_every_kind_that_customers_find_hard_has_a_page(pages: dict[str, ReadPage]) -> None:
    assert set(WANTED) <= set(trees())
    assert all(f"identify/{kind}/index.html" in pages for kind in trees())


def test_no_listed_part_is_lost_and_none_is_kept_against_what_was_told() -> None:
    book = real_book()
    wrong = []
    for kind, step in trees().items():
        everything = {name for name, family in book["families"].items() if family["kind"] == kind}
        for at in [step, *(choice.then for choice in chosen(step) if choice.then)]:
            lost = (everything if at is step else set()) - {name for choice in at.choices for name in choice.left}
            wrong += [(kind, at.attribute, lost)] if lost else []
        wrong += [(kind, choice.label, name) for choice in chosen(step) for name in choice.left if not fits(book["families"][name], dict(choice.told))]
        wrong += [(kind, choice.label, choice.left) for choice in chosen(step) if choice.then
                  and set(choice.left) - {name for below in choice.then.choices for name in below.left}]

    assert wrong == []


def test_trees_stay_within_their_bounds_and_each_step_leaves_fewer_parts() -> None:
    book = real_book()

    def deep(step: Step | None) -> int:
        return 0 if step is None else 1 + max(deep(choice.then) for choice in step.choices)

    assert all(1 <= deep(step) <= DEEPEST and steps_of(step) <= MOST_STEPS for step in trees().values())
    for kind, step in trees().items():
        count = sum(family["kind"] == kind for family in book["families"].values())
        assert all(len(choice.left) < count for choice in step.choices), kind


def test_a_hundred_alike_parts_do_not_make_an_endless_tree() -> None:
    book = json.loads(json.dumps(real_book()))
    model = book["families"][next(name for name, family in book["families"].items() if family["kind"] == "controller")]
    book["families"].update({f"more_{n}": {**model, "id": f"more_{n}"} for n in range(100)})

    assert steps_of(narrowing(book, "controller")) <= MOST_STEPS


def test_the_first_thing_asked_is_no_harder_than_anything_else_that_tells_parts_apart() -> None:
    first = {kind: trees()[kind].attribute for kind in ("throttle_body", "speed_source", "pedal", "transmission", "alternator")}

    assert first["throttle_body"] == "actuation"
    assert first["pedal"] == "actuation"
    assert first["speed_source"] == "place"
    assert {real_book()["find_out"][next(a["find_out"] for a in real_book()["kinds"][kind]["attributes"] if a["id"] == name)]["ease"]
            for kind, name in first.items()} == {"look"}


def test_what_else_matters_leaves_out_what_was_told_and_what_does_not_apply() -> None:
    kind = real_book()["kinds"]["throttle_body"]
    cable = [a["id"] for a in what_else(real_book(), kind, {"actuation": "cable"}, {}, 20)]
    motor = [a["id"] for a in what_else(real_book(), kind, {"actuation": "motor"}, {}, 20)]

    assert "return_sources" in cable and "return_sources" not in motor
    assert "actuation" not in cable + motor
    assert what_else(real_book(), kind, {}, {}, 2)[0]["id"] == "actuation"


@pytest.mark.parametrize("kind", WANTED)
def test_what_was_seen_reaches_the_check_and_the_engine_takes_it(site: Path, kind: str) -> None:
    book = load(json.dumps(real_book()))
    slot = real_book()["kinds"][kind]["slots"][0]
    linked = LINK.findall((site / "identify" / kind / "index.html").read_text("utf-8"))
    told = [dict(choice.told) for choice in chosen(trees()[kind]) if choice.told]
    read = [from_address(book, fragment.replace("&amp;", "&")) for fragment in linked]

    assert len(linked) == len(told) > 0
    assert [unused for _, unused in read if unused] == []
    assert sorted(json.dumps(build["slots"][slot]["told"], sort_keys=True) for build, _ in read) == sorted(json.dumps(one, sort_keys=True) for one in told)
    assert all(json.loads(answer(book, json.dumps(build)))["contradiction"] is None for build, _ in read[:6])


def test_no_verdict_stands_on_a_page_that_narrows_down(pages: dict[str, ReadPage]) -> None:
    words = ("Will not work", "Works with additions", "Cannot tell yet")
    named = [(path, word) for path, page in pages.items() if path.startswith("identify/")
             for word in words if word in page.path.read_text("utf-8").partition("<article")[2].partition("</article>")[0]]

    assert named == []


def test_the_kind_and_the_list_of_ways_lead_to_the_page(pages: dict[str, ReadPage]) -> None:
    assert ("a", "href", "../../identify/throttle_body/") in pages["parts/throttle_body/index.html"].addresses
    assert ("a", "href", "../identify/") in pages["find-out/index.html"].addresses
