"""What answers offer on books of a few records: parts to choose, numbers to make, changes and additions."""

from __future__ import annotations

from tests.engine.by_hand import (addition, alike, ask, at, attribute, between, book, case, family, fired, kind,
                                  rule, told)

SIZES = ("small", "medium", "large")
LAMP = kind("lamp", attribute("size", *SIZES), attribute("feed", "wire", "housing"))
PANEL = kind("panel", attribute("size", *SIZES))
TRAY = kind("tray", attribute("depth"), open_from="made_to_order")
BOX = kind("box", attribute("depth"), attribute("height"))
LAMPS = [family(f"lamp_{size}", "lamp", size=size) for size in SIZES]


def test_of_parts_in_hand_those_that_would_do_and_those_that_would_not_are_told_apart() -> None:
    fits = book([LAMP, PANEL], [rule("fits", ["lamp", "panel"], case("works", alike("lamp.size", "panel.size")))], LAMPS)
    hand = {"in_hand": [told(size="small"), told(size="medium"), {"family": "lamp_medium"}]}
    choice, = ask(fits, {"lamp": hand, "panel": told(size="medium")})["choices"]

    assert choice["pick"]["index"] == 1
    assert [part["index"] for part in choice["viable"]] == [1, 2]
    assert [(part["index"], part["rule"], part["because"]) for part in choice["not_viable"]] == [
        (0, "fits", "It will-not-work.")]


def test_where_a_part_is_chosen_only_the_cases_that_it_leads_to_are_told() -> None:
    fits = book([LAMP, PANEL], [rule("fits", ["lamp", "panel"], case("works", alike("lamp.size", "panel.size"))),
                                rule("large", ["lamp"], case("works", at("lamp.size", "large"), name="large"),
                                     case("works", at("lamp.size", "small"), name="small"))], LAMPS)
    found = ask(fits, {"lamp": "open", "panel": told(size="small")})
    choice, = found["choices"]

    assert (found["verdict"], choice["pick"]["family"]) == ("works-with-additions", "lamp_small")
    assert fired(found, "fits") == {"works"}
    assert fired(found, "large") == {"small"}
    assert [part["family"] for part in choice["viable"]] == ["lamp_small"]
    assert {part["family"]: part["rule"] for part in choice["not_viable"]} == {"lamp_medium": "fits", "lamp_large": "fits"}


def test_a_number_of_a_part_to_be_made_is_specified_by_the_limits_that_it_must_meet() -> None:
    deep = book([TRAY], [rule("deep", ["tray"], case("works", between("tray.depth", 20, 30)))])

    assert specified(ask(deep, {"tray": "made_to_order"})) == {"depth": "20 mm"}
    assert specified(ask(deep, {"tray": {"state": "made_to_order", "told": {"depth": 25}}})) == {}
    assert ask(deep, {"tray": {"state": "made_to_order", "told": {"depth": 31}}})["verdict"] == "will-not-work"


def test_the_ends_of_a_range_are_tried_however_many_limits_lie_between() -> None:
    """More limits than settings are tried, so that some are passed over."""
    limits = [case("cannot-tell", between("tray.depth", 12 + step * 0.25, 12 + step * 0.25), name=f"at-{step}")
              for step in range(100)]
    deep = rule("deep", ["tray", "box"], case("works", between("tray.depth", "box.depth", None)), *limits)
    low = rule("low", ["tray", "box"], case("works", between("tray.depth", None, "box.depth")), *limits)
    build = {"tray": "made_to_order", "box": told(depth=40)}

    assert specified(ask(book([TRAY, BOX], [deep]), build)) == {"depth": "40 mm"}
    assert specified(ask(book([TRAY, BOX], [low]), {**build, "box": told(depth=10)})) == {"depth": "10 mm"}


def test_a_number_to_be_set_meets_two_limits_that_lie_close_together() -> None:
    fits = rule("fits", ["tray", "box"], case("works", between("tray.depth", "box.depth", "box.height")))
    found = ask(book([TRAY, BOX], [fits]), {"tray": "made_to_order", "box": told(depth=23.25, height=23.5)})
    depth = float(specified(found)["depth"].split()[0])

    assert found["verdict"] == "works-with-additions"
    assert 23.25 <= depth <= 23.5


def specified(found: dict) -> dict[str, str]:
    """Return what the one part to be made must be."""
    choice, = found["choices"]
    return {line["attr"]: " or ".join(text for _, text in line["values"]) for line in choice["specification"]}


def test_changes_are_told_with_their_price_and_the_cheapest_comes_first() -> None:
    host = kind("panel", attribute("size", *SIZES), changeable="never")
    lamps = [family("lamp_dear", "lamp", 30, size="large"), family("lamp_wrong", "lamp", 10, size="small"),
             family("lamp_fair", "lamp", 20, size="large")]
    fits = book([LAMP, host], [rule("fits", ["lamp", "panel"], case("works", alike("lamp.size", "panel.size")))], lamps)
    found = ask(fits, {"lamp": {"family": "lamp_wrong"}, "panel": told(size="large")})

    assert [(one["parts"][0]["family"], one["price"]) for one in found["changes"]] == [("lamp_fair", 20), ("lamp_dear", 30)]
    assert all(one["verdict"] == "works" for one in found["changes"])


def test_a_way_of_doing_it_otherwise_is_told_plainly_in_the_build_to_ask_again() -> None:
    lamp = kind("lamp", attribute("joint", "twisted", "crimped", told_only=True), changeable="ways")
    found = ask(book([lamp], [rule("joined", ["lamp"], case("works", at("lamp.joint", "crimped")))]),
                {"lamp": told(joint="twisted")})

    assert [(one["ways"], one["verdict"]) for one in found["changes"]] == [
        ([{"slot": "lamp", "attr": "joint", "value": "crimped"}], "works")]
    assert found["changes"][0]["build"]["slots"] == {"lamp": {"told": {"joint": "crimped"}}}


def test_where_nothing_may_be_added_allowing_it_is_a_change_and_elsewhere_it_is_none() -> None:
    fed = rule("fed", ["lamp"], case("works", at("lamp.feed", "wire"), at("lamp.size", "small")),
               case("works-with-additions", at("lamp.feed", "housing"), at("lamp.size", "small"), additions=[["own_wire"]]))
    wired = book([LAMP], [fed], [family("lamp_wired", "lamp", size="small", feed="wire")], additions=[addition("own_wire", {"lamp.feed": "wire"})])
    slots = {"lamp": told(feed="housing", size="small")}
    found = ask(wired, slots, nothing_added=True)
    allowing, = [one for one in found["changes"] if one["allow_additions"]]

    assert (found["verdict"], allowing["verdict"]) == ("will-not-work", "works-with-additions")
    assert [one["addition"] for one in allowing["additions"]] == ["own_wire"]
    assert not any(one["allow_additions"] for one in ask(wired, {"lamp": told(feed="wire", size="large")})["changes"])


def test_of_parts_that_would_do_one_that_is_for_sale_is_picked() -> None:
    lamps = [family("lamp_a", "lamp", size="small"), family("lamp_b", "lamp", stock="7", size="small"),
             family("lamp_c", "lamp", stock="8", size="large")]
    small = book([LAMP], [rule("fits", ["lamp"], case("works", at("lamp.size", "small")))], lamps)
    choice, = ask(small, {"lamp": "open"})["choices"]

    assert (choice["pick"]["family"], choice["pick"]["for_sale"]) == ("lamp_b", True)
    assert {part["family"]: part["for_sale"] for part in choice["viable"]} == {"lamp_a": False, "lamp_b": True}


def test_a_part_that_cannot_be_bought_leaves_the_subjects_that_do_not_read_it_alone() -> None:
    bright = rule("bright", ["lamp"], case("works", at("lamp.feed", "wire")))
    flat = rule("flat", ["panel"], case("works", at("panel.size", "small", "large")), subject="fixing")
    found = ask(book([LAMP, PANEL], [bright, flat], [family("panel_small", "panel", size="small")]),
                {"lamp": told(feed="wire"), "panel": {"state": "open", "told": {"size": "large"}}})

    assert {one["subject"]: one["verdict"] for one in found["subjects"]} == {"light": "works", "fixing": "cannot-tell"}
    assert found["verdict"] == "cannot-tell"


def test_parts_that_would_do_are_told_cheapest_first_and_those_without_a_price_last() -> None:
    lamps = [family("lamp_a", "lamp", size="small"), family("lamp_b", "lamp", 30, size="small"),
             family("lamp_c", "lamp", 20, size="small")]
    choice, = ask(book([LAMP], [rule("fits", ["lamp"], case("works", at("lamp.size", "small")))], lamps), {"lamp": "open"})["choices"]

    assert [part["family"] for part in choice["viable"]] == ["lamp_c", "lamp_b", "lamp_a"]
    assert choice["pick"]["family"] == "lamp_c"


def test_of_parts_that_need_additions_one_that_needs_fewer_is_picked() -> None:
    lamps = [family("lamp_cheap", "lamp", 10, size="small"), family("lamp_dear", "lamp", 20, size="large")]
    always = rule("always", ["lamp"], case("works-with-additions", at("lamp.size", "small"), additions=[["clip"]], name="clip"),
                  case("works-with-additions", at("lamp.size", "large"), additions=[["bolt"]], name="bolt"))
    once = rule("once", ["lamp"], case("works-with-additions", at("lamp.size", "small"), additions=[["wire"]]),
                case("works", at("lamp.size", "large")))
    found = ask(book([LAMP], [always, once], lamps, [addition(name) for name in ("clip", "bolt", "wire")]), {"lamp": "open"})

    assert found["choices"][0]["pick"]["family"] == "lamp_dear"
    assert [one["addition"] for one in found["additions"]["certain"]] == ["bolt"]
