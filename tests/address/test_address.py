"""An address carries every build there and back, and any text is read without an error."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.address.builds import builds, damaged
from tests.address.small_book import small_book
from wizard.engine.address import from_address, to_address
from wizard.engine.build import Build, read_build

BOOK = small_book()
ADDRESS = re.compile(r"[A-Za-z0-9._~!$&'()*+,;=:@/?%-]*")      # what may follow the `#`: RFC 3986 section 3.5, from memory


def meaning(build: dict[str, Any]) -> Build:
    """Return the build as the engine understands it; one said to be one of a single part is that part."""
    return read_build(BOOK, json.dumps(build))


@given(builds(BOOK))
def test_a_build_comes_back_with_the_meaning_it_had(build):
    back, unused = from_address(BOOK, to_address(BOOK, build))

    assert (meaning(back), unused) == (meaning(build), [])


@given(builds(BOOK))
def test_an_address_read_and_written_again_is_the_same_address(build):
    address = to_address(BOOK, build)

    assert to_address(BOOK, from_address(BOOK, address)[0]) == address


@given(builds(BOOK))
def test_an_address_holds_only_characters_that_may_follow_the_hash(build):
    assert ADDRESS.fullmatch(to_address(BOOK, build))


@given(builds(BOOK), st.randoms(use_true_random=False))
def test_the_order_in_which_things_were_told_does_not_show(build, random):
    def shuffled(value: Any) -> Any:
        if isinstance(value, dict):
            keys = list(value)
            random.shuffle(keys)
            return {key: value[key] if key in ("in_hand", "one_of") else shuffled(value[key]) for key in keys}
        return value

    assert to_address(BOOK, shuffled(build)) == to_address(BOOK, build)


@given(builds(BOOK))
def test_an_address_that_a_messenger_encoded_once_more_still_opens(build):
    address = to_address(BOOK, build)
    encoded = "".join(c if c.isalnum() else f"%{ord(c):02X}" for c in address) if "%" not in address else address

    assert from_address(BOOK, encoded) == from_address(BOOK, address)


@given(st.text(max_size=200))
def test_any_text_is_read_without_an_error_into_a_build_the_engine_can_read(text):
    build, unused = from_address(BOOK, text)

    assert meaning(build) is not None
    assert all(set(one) == {"name", "value", "why"} for one in unused)


@given(st.data())
def test_a_damaged_address_gives_a_build_the_engine_can_read(data):
    address = to_address(BOOK, data.draw(builds(BOOK)))
    build, _ = from_address(BOOK, data.draw(damaged(address)))

    assert meaning(build) is not None


@given(st.data())
def test_a_value_no_fact_knows_leaves_its_part_mentioned_and_is_named(data):
    build = data.draw(builds(BOOK).filter(lambda build: build["slots"]))
    pieces = to_address(BOOK, {"slots": build["slots"]}).split("&")
    slot = data.draw(st.sampled_from(sorted(piece.partition("=")[0] for piece in pieces)))
    pieces = [piece for piece in pieces if piece.startswith(f"{slot}=") or not piece.startswith(slot)]
    spoiled = "&".join(f"{slot}=no_such_thing" if piece.startswith(f"{slot}=") else piece for piece in pieces)
    read, unused = from_address(BOOK, spoiled)

    assert slot.strip(".").partition(".")[0] in read["slots"]
    assert [one["value"] for one in unused] == ["no_such_thing"]


@pytest.mark.parametrize(("build", "address"), [
    ({"slots": {}}, ""),
    ({"slots": {"panel": {"family": "panel_a", "keep": True}}}, "panel=panel_a;keep"),
    ({"slots": {"panel": {}}}, "panel=fitted"),
    ({"slots": {"panel": "made_to_order", "lamp_left": "none"}}, "lamp_left=none&panel=made_to_order"),
    ({"slots": {"lamp_left": {"one_of": ["lamp_b", "lamp_a"]}}}, "lamp_left=lamp_b,lamp_a"),
    ({"slots": {"lamp_left": {"family": "open"}}}, "lamp_left=,open"),
    ({"slots": {"lamp_left": {"told": {"draw": 4.5, "plug": {"is": "style_b", "assumed": True}}}}},
     "lamp_left=draw:4.5;plug:style_b:assumed"),
    ({"slots": {"lamp_left": {"told": {"return_path": "unknown", "draw": {"from": -20, "to": 3}}}}},
     "lamp_left=draw:-20..3;return_path:unknown"),
    ({"slots": {"wheel": {"told": {"across": "225/60R16"}}}}, "wheel=across:225/60R16"),
    ({"slots": {"lamp_left": {"in_hand": [{"family": "lamp_a"}, {"told": {"plug": ["style_a", "style_b"]}}], "keep": True}}},
     "lamp_left=keep&lamp_left.1=lamp_a&lamp_left.2=plug:style_a,style_b"),
    ({"slots": {"asks": "maybe"}, "asks": ["light"]}, ".asks=maybe&asks=light"),
    ({"slots": {}, "relations": [{"came_together": ["panel", "lamp_left"], "is": "yes", "says": "customer"},
                                 {"same": ["panel.plug", "lamp_left.plug"], "is": "no", "says": "checked"},
                                 {"made_for": ["panel", "wheel"], "is": "not_sure"}]},
     "came_together=lamp_left,panel&made_for=panel,wheel:not_sure&same=lamp_left.plug,panel.plug:no:checked"),
    ({"slots": {}, "whole_swap": True, "nothing_added": {"except": ["wire", "buy"]}, "taken_as_right": [{"rule": "lamp-load"}]},
     "nothing_added=except:buy,wire&taken_as_right=lamp-load&whole_swap=yes"),
])
def test_an_address_reads_as_words_in_order_of_name(build, address):
    assert to_address(BOOK, build) == address


@pytest.mark.parametrize(("address", "build", "unused"), [
    ("lamp_center=lamp_a", {}, [("lamp_center", "lamp_a", "no part and no setting")]),
    ("panel=panel_z", {"panel": "not_sure"}, [("panel", "panel_z", "counts as not known")]),
    ("panel=lamp_a", {"panel": "not_sure"}, [("panel", "lamp_a", "counts as not known")]),
    ("panel=panel_a,panel_z", {"panel": "not_sure"}, [("panel", "panel_a,panel_z", "counts as not known")]),
    ("panel=panel_z;keep", {"panel": {"keep": True, "state": "not_sure"}}, [("panel", "panel_z", "counts as not known")]),
    ("panel=panel_a;open", {"panel": {"family": "panel_a"}}, [("panel", "open", "only one of them")]),
    ("panel=panel_a&panel=panel_b", {"panel": {"family": "panel_a"}}, [("panel", "panel_b", "said twice")]),
    ("panel=panel_a&.panel=panel_b", {"panel": {"family": "panel_a"}}, [(".panel", "panel_b", "said twice")]),
    ("panel=panel_a&panel.1=panel_b", {"panel": {"family": "panel_a"}}, [("panel.1", "panel_b", "only one of them")]),
    ("panel.1=panel_z&panel.2=panel_b", {"panel": {"in_hand": [{"family": "panel_b"}]}}, [("panel", "panel_z", "left out")]),
    ("panel.1=panel_z", {"panel": "not_sure"}, [("panel", "panel_z", "left out")]),
    ("lamp_left=draw:9001", {"lamp_left": {"told": {"draw": "unknown"}}}, [("lamp_left.draw", "9001", "counts as not known")]),
    ("lamp_left=draw:5..3", {"lamp_left": {"told": {"draw": "unknown"}}}, [("lamp_left.draw", "5..3", "counts as not known")]),
    ("lamp_left=draw:225/60R16", {"lamp_left": {"told": {"draw": "unknown"}}}, [("lamp_left.draw", "225/60R16", "counts as not known")]),
    ("lamp_left=plug:style_a,zz", {"lamp_left": {"told": {"plug": "unknown"}}}, [("lamp_left.plug", "style_a,zz", "counts as not known")]),
    ("lamp_left=plug:other", {"lamp_left": {"told": {"plug": "other"}}}, []),
    ("lamp_left=return_path:other", {"lamp_left": {"told": {"return_path": "unknown"}}}, [("lamp_left.return_path", "other", "counts as not known")]),
    ("lamp_left=plug:style_a:sworn", {"lamp_left": {"told": {"plug": "unknown"}}}, [("lamp_left.plug", "style_a:sworn", "counts as not known")]),
    ("lamp_left=colour:red", {"lamp_left": "not_sure"}, [("lamp_left.colour", "red", "Nothing of that name")]),
    ("made_for=panel", {}, [("made_for", "panel", "does not name parts")]),
    ("made_for=panel,moon", {}, [("made_for", "panel,moon", "does not name parts")]),
    ("same=panel.plug,panel", {}, [("same", "panel.plug,panel", "does not name parts")]),
    ("came_together=panel,wheel:often", {}, [("came_together", "panel,wheel:often", "not one of the answers")]),
    ("asks=light,moon", {}, [("asks", "moon", "no subject")]),
    ("whole_swap=maybe", {}, [("whole_swap", "maybe", "not one of the answers")]),
    ("nothing_added=except:buy,beg", {}, [("nothing_added", "beg", "not one of the answers")]),
    ("taken_as_right=lamp-load,moon", {}, [("taken_as_right", "moon", "no rule")]),
    ("taken_as_right=lamp-load,lamp-load:panel", {}, []),
    ("panel", {}, [("panel", "", "name=value")]),
    ("=panel_a", {}, [("", "panel_a", "name=value")]),
    ("#panel=panel_a&&", {"panel": {"family": "panel_a"}}, []),
    ("panel=%3Cimg src=x onerror=alert(1)%3E", {"panel": "not_sure"}, [("panel", "<img src=x onerror=alert(1)>", "counts as not known")]),
    ("%FF%FE=1", {}, [("\ufffd\ufffd", "1", "no part and no setting")]),
    ("panel%3Dpanel_a%3Bkeep", {"panel": {"family": "panel_a", "keep": True}}, []),
])
def test_what_cannot_be_used_is_named_and_the_rest_still_opens(address, build, unused):
    read, said = from_address(BOOK, address)

    assert read["slots"] == build
    assert [(one["name"], one["value"]) for one in said] == [(name, value) for name, value, _ in unused]
    assert all(why in one["why"] for one, (_, _, why) in zip(said, unused))


def test_a_long_name_or_value_is_cut_before_it_is_shown():
    _, unused = from_address(BOOK, "x" * 500 + "=" + "y" * 500)

    assert [(len(one["name"]), len(one["value"])) for one in unused] == [(81, 81)]
