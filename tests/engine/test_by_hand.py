"""What answers say about books of a few records, where the right answer can be seen without a machine."""

from __future__ import annotations

import json

import pytest

from tests.engine.by_hand import (BASE, addition, alike, ask, at, attribute, between, book, case, family, fired,
                                  kind, rule, stop, told)
from wizard.engine import answer, load
from wizard.engine.model import BookError

SIZES = ("small", "medium", "large")
LAMP = kind("lamp", attribute("size", *SIZES), attribute("feed", "wire", "housing"))
PANEL = kind("panel", attribute("size", *SIZES))
MOUNT = kind("mount", attribute("size", *SIZES))
LAMPS = [family(f"lamp_{size}", "lamp", size=size) for size in SIZES]
PANELS = [family(f"panel_{size}", "panel", size=size) for size in SIZES]
MOUNTS = [family(f"mount_{size}", "mount", size=size) for size in SIZES]


def test_a_contradiction_names_the_statements_that_cannot_all_be_true_and_no_other() -> None:
    fits = book([LAMP, PANEL], [rule("fits", ["lamp", "panel"], case("works", alike("lamp.size", "panel.size")))], LAMPS)
    found = ask(fits, {"lamp": {"family": "lamp_small", "told": {"size": "large", "feed": "unknown"}},
                       "panel": told(size="small")})

    assert found["verdict"] is None
    assert found["contradiction"] == ["Lamp: Lamp small", "Lamp, size: large"]


def test_two_words_about_one_donor_contradict_each_other() -> None:
    fits = book([LAMP, PANEL], [rule("fits", ["lamp", "panel"], case("works", alike("lamp.size", "panel.size")))])
    slots = {"lamp": told(size="small"), "panel": told(size="small")}
    both = [{"came_together": ["lamp", "panel"], "is": said} for said in ("yes", "no")]
    found = ask(fits, slots, relations=both)

    assert len(found["contradiction"]) == 2
    assert ask(fits, slots, relations=both[:1])["verdict"] == "works"


def test_what_decides_a_failure_fails_in_each_of_its_cases() -> None:
    may = rule("may-fail", ["panel"], case("works", at("panel.size", "small")))
    must = rule("must-fail", ["lamp"], case("will-not-work", at("lamp.size", "small"), name="first"),
                case("will-not-work", at("lamp.size", "medium"), name="second"), last="will-not-work")
    found = ask(book([LAMP, PANEL], [may, must]), {"lamp": "not_sure", "panel": "not_sure"})

    assert found["verdict"] == "will-not-work"
    assert found["decided_by"]["rule"] == "must-fail"
    assert fired(found, "may-fail") == {"works", "otherwise"}


def test_rules_that_fail_only_together_are_decided_by_none_of_them() -> None:
    one = rule("one", ["lamp"], case("works", at("lamp.size", "small")))
    two = rule("two", ["lamp"], case("works", at("lamp.size", "large")))
    found = ask(book([LAMP], [one, two]), {"lamp": told(size=["small", "large"])})

    assert found["verdict"] == "will-not-work"
    assert found["decided_by"] is None
    assert {entry["rule"] for entry in found["clash_rules"]} == {"one", "two"}


def test_rules_that_share_one_open_part_are_answered_together() -> None:
    one = rule("one", ["lamp", "panel"], case("works", at("lamp.size", "small"), at("panel.size", "small")))
    two = rule("two", ["panel", "mount"], case("works", at("panel.size", "large"), at("mount.size", "large")))
    shared = book([LAMP, PANEL, MOUNT], [one, two], [*LAMPS, *PANELS, *MOUNTS])
    slots = {"lamp": "open", "panel": "open", "mount": "open"}

    assert ask(shared, slots)["verdict"] == "will-not-work"
    assert ask(shared, {**slots, "panel": told(size="small")})["decided_by"]["rule"] == "two"
    assert ask(shared, {**slots, "panel": told(size="large")})["decided_by"]["rule"] == "one"


def test_parts_told_to_be_one_of_two_never_mix_their_values() -> None:
    """Each value of one part goes with each of the other's only on paper."""
    lamps = [family("lamp_one", "lamp", size="small", feed="wire"), family("lamp_two", "lamp", size="medium", feed="housing")]
    mixed = rule("mixed", ["lamp"], case("will-not-work", at("lamp.size", "small"), at("lamp.feed", "housing"), name="mixed"),
                 case("works", at("lamp.size", "small", "medium")))
    found = ask(book([LAMP], [mixed], lamps), {"lamp": {"one_of": ["lamp_one", "lamp_two"]}})

    assert found["verdict"] == "works"
    assert fired(found, "mixed") == {"works"}


def test_what_is_told_to_be_the_same_of_two_parts_never_differs_in_any_case() -> None:
    mixed = rule("mixed", ["lamp", "panel"], case("will-not-work", at("lamp.size", "small"), at("panel.size", "large"), name="mixed"),
                 case("works", at("lamp.size", *SIZES)))
    slots = {"lamp": told(size="unknown"), "panel": told(size="unknown")}
    same = ask(book([LAMP, PANEL], [mixed]), slots, relations=[{"same": ["lamp.size", "panel.size"], "is": "yes"}])

    assert (same["verdict"], fired(same, "mixed")) == ("works", {"works"})
    assert fired(ask(book([LAMP, PANEL], [mixed]), slots), "mixed") == {"mixed", "works"}


def test_three_parts_told_to_differ_never_share_two_values() -> None:
    few = ("small", "medium")
    crowded = rule("crowded", ["lamp", "panel", "mount"],
                   case("will-not-work", *(at(f"{slot}.size", *few) for slot in ("lamp", "panel", "mount")), name="crowded"),
                   case("works", at("lamp.size", *SIZES)))
    pairs = (("lamp", "panel"), ("panel", "mount"), ("lamp", "mount"))
    found = ask(book([LAMP, PANEL, MOUNT], [crowded]), {slot: told(size="unknown") for slot in ("lamp", "panel", "mount")},
                relations=[{"same": [f"{a}.size", f"{b}.size"], "is": "no"} for a, b in pairs])

    assert (found["verdict"], fired(found, "crowded")) == ("works", {"works"})


def test_values_are_compared_by_what_they_are_and_not_by_where_they_are_listed() -> None:
    ring = kind("ring", attribute("size", "large", "small", "medium"))
    fits = book([LAMP, ring], [rule("fits", ["lamp", "ring"], case("works", alike("lamp.size", "ring.size")))])
    verdicts = {(a, b): ask(fits, {"lamp": told(size=a), "ring": told(size=b)})["verdict"] for a in SIZES for b in SIZES}

    assert {pair for pair, verdict in verdicts.items() if verdict == "works"} == {(size, size) for size in SIZES}
    assert set(verdicts.values()) == {"works", "will-not-work"}


def test_what_was_not_looked_at_is_named_with_what_nobody_said() -> None:
    rules = [rule("bright", ["lamp"], case("works", at("lamp.feed", "wire"))),
             rule("fits", ["lamp", "panel"], case("works", alike("lamp.size", "panel.size"))),
             rule("flat", ["panel"], case("works", at("panel.size", "small")))]
    found = ask(book([LAMP, PANEL], rules), {"lamp": told(feed="wire")})

    assert [(one["rule"], one["unsaid"]) for one in found["scope"]["not_looked_at"]] == [("fits", ["panel"])]
    assert found["verdict"] == "works"


def test_one_way_of_adding_has_to_suit_all_rules_that_feel_it() -> None:
    """The first way feeds the lamp by wire, the second leaves the housing: one of the other two rules fails either way."""
    load_rule = rule("load", ["lamp"], case("works-with-additions", at("lamp.size", "small"), additions=[["own_wire", "clip"], ["fuse"]]))
    wire = rule("wire", ["lamp"], case("works", at("lamp.feed", "wire")))
    housing = rule("housing", ["lamp"], case("works", at("lamp.feed", "housing")))
    additions = [addition("own_wire", {"lamp.feed": "wire"}), addition("clip"), addition("fuse")]
    slots = {"lamp": told(size="small", feed="housing")}
    ways = {tuple(one["id"] for one in rules): ask(book([LAMP], rules, additions=additions), slots)["verdict"]
            for rules in ([load_rule, wire], [load_rule, housing], [load_rule, wire, housing])}

    assert ways == {("load", "wire"): "works-with-additions", ("load", "housing"): "works-with-additions",
                    ("load", "wire", "housing"): "will-not-work"}


def test_a_way_of_adding_names_what_another_rule_needs_because_of_it() -> None:
    load_rule = rule("load", ["lamp"], case("works-with-additions", at("lamp.size", "small"), additions=[["own_wire"], ["fuse"]]))
    wire = rule("wire", ["lamp"], case("works-with-additions", at("lamp.feed", "wire"), additions=[["clip"]]),
                case("works", at("lamp.feed", "housing"), name="by-housing"))
    additions = [addition("own_wire", {"lamp.feed": "wire"}), addition("clip"), addition("fuse")]
    found = ask(book([LAMP], [load_rule, wire], additions=additions), {"lamp": told(size="small", feed="housing")})

    ways = [sorted(sorted(one["addition"] for one in way) for way in ways) for ways in found["additions"]["one_of"]]

    assert ways == [[["clip", "own_wire"], ["fuse"]]]
    assert found["additions"]["certain"] == found["additions"]["only_if"] == []


def test_a_clash_names_the_rule_that_needs_the_fewest_statements() -> None:
    both = rule("both", ["lamp"], case("will-not-work", at("lamp.size", "small"), at("lamp.feed", "wire")), case("works", at("lamp.fitted", "yes")))
    size = rule("size", ["lamp"], case("will-not-work", at("lamp.size", "small")), case("works", at("lamp.fitted", "yes")))
    found = ask(book([LAMP], [both, size]), {"lamp": told(size="small", feed="wire")})

    assert [one["about"] for one in found["clash"]] == ["lamp.size"]
    assert [one["rule"] for one in found["clash_rules"]] == ["size"]


def test_a_stop_that_holds_stands_before_one_that_may_hold() -> None:
    works = rule("works", ["lamp"], case("works", at("lamp.size", *SIZES)))
    stops = {one["id"]: one for one in (stop("a", at("lamp.feed", "wire")), stop("b", at("lamp.size", "small")))}
    found = ask(book([LAMP], [works], stops=stops), {"lamp": told(size="small", feed="unknown")})

    assert [(one["stop"], one["when"] == "") for one in found["stops"]["hold"]] == [("b", True), ("a", False)]


def test_what_cannot_be_told_yet_is_explained_by_a_rule_that_the_first_question_is_about() -> None:
    sizes = [rule(name, ["lamp"], case("works", at("lamp.size", "small", "medium"))) for name in ("bright", "light")]
    feed = rule("feed", ["lamp"], case("works", at("lamp.feed", "wire")), last="cannot-tell")
    found = ask(book([LAMP], [feed, *sizes]), {"lamp": told(size="unknown", feed="unknown")})

    assert (found["verdict"], found["questions"][0]["ask"]) == ("cannot-tell", "lamp.size")
    assert found["decided_by"]["rule"] in found["questions"][0]["touches"] == ["bright", "light"]


def test_matched_sets_of_more_parts_than_are_looked_through_leave_it_open_and_say_so(monkeypatch: pytest.MonkeyPatch) -> None:
    listed = {"relation": "listed_together", "of": ["lamp", "panel"], "is": "yes"}
    record = {**BASE, "id": "matched", "title": "Matched", "families": {"lamp": ["lamp_small"], "panel": ["panel_small"]}}
    matched = [LAMP, PANEL], [rule("matched", ["lamp", "panel"], case("works", listed))], [*LAMPS, *PANELS]
    slots = {"lamp": {"one_of": ["lamp_small"]}, "panel": {"one_of": ["panel_small", "panel_large"]}}
    before = ask(book(*matched, sets={"matched": record}), {**slots, "panel": {"family": "panel_small"}})
    monkeypatch.setattr("wizard.engine.space.PRODUCT_LIMIT", 1)
    after = ask(book(*matched, sets={"matched": record}), slots)

    assert (before["verdict"], before["limit_hit"]) == ("works", False)
    assert (after["verdict"], after["limit_hit"]) == ("cannot-tell", True)


def test_one_part_of_which_too_little_could_be_looked_at_is_enough_to_say_so(monkeypatch: pytest.MonkeyPatch) -> None:
    lamp = kind("lamp", attribute("size", *SIZES), attribute("feed", "wire", "housing"), never=[{"size": ["small"], "feed": ["wire"]}])
    parts = [lamp, PANEL], [rule("bright", ["lamp", "panel"], case("works", at("lamp.size", *SIZES), at("panel.size", "small")))]
    slots = {"lamp": told(size="unknown"), "panel": told(size="small")}
    before = ask(book(*parts), slots)
    monkeypatch.setattr("wizard.engine.space.SLOT_NODES", 0)
    after = ask(book(*parts), slots)

    assert (before["verdict"], before["limit_hit"]) == ("works", False)
    assert (after["verdict"], after["limit_hit"]) == ("cannot-tell", True)


@pytest.mark.parametrize(("text", "said"), [("[]", "says 'list'"), ('{"schema": 99}', "says 99"), ("{", "not valid JSON")])
def test_what_is_no_book_is_refused_in_words(text: str, said: str) -> None:
    with pytest.raises(BookError, match=said):
        load(text)


def test_between_two_whole_numbers_there_is_none() -> None:
    rack = kind("rack", attribute("holes", whole=True, unit="count", low=1, high=6))
    inside = {**between("rack.holes", 3, 4), "low_open": True, "high_open": True}
    counted = book([rack], [rule("counted", ["rack"], case("will-not-work", inside, name="inside"), case("works", between("rack.holes", 1, 6)))])
    found = ask(counted, {"rack": told(holes={"from": 3, "to": 4})})

    assert (found["verdict"], fired(found, "counted")) == ("works", {"works"})


def test_letters_with_accents_stay_as_they_are() -> None:
    accented = kind("lamp", attribute("size", "small", "large", title="Größe"))
    text = answer(book([accented], [rule("fits", ["lamp"], case("works", at("lamp.size", "small")))]),
                  json.dumps({"slots": {"lamp": "not_sure"}}))

    assert "größe" in text or "Größe" in text
    assert "\\u" not in text
