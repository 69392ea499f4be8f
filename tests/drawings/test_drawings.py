"""Drawings say in words what they draw, take their colours from the page, and are the same each time."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.drawings import crank, electrics, faces, injectors
from build_tools.drawings.figure import Drawing, Panel, figure
from build_tools.drawings.registry import FIXED, NAMES, OF_SUMS
from tests.drawings.samples import MADE_UP, all_drawings, plug
from tests.site.building import real_book
from wizard.sums.forms import REGISTRY

STYLE = Path(__file__).resolve().parent.parent.parent / "wizard" / "web" / "style" / "drawings.css"
DRAWINGS = all_drawings()
ROWS = st.lists(st.integers(1, 12), min_size=1, max_size=4)


def classes(text: str) -> set[str]:
    """Return every class that the strokes of a drawing name."""
    return {name for found in re.findall(r'class="([^"]*)"', text) for name in found.split()}


def texts(panel: Panel) -> list[str]:
    """Return the words that stand in a panel."""
    return re.findall(r"<text[^>]*>([^<]*)</text>", panel.marks)


@pytest.mark.parametrize("name", sorted(DRAWINGS))
def test_a_drawing_is_sound_has_no_ids_and_no_colours_of_its_own(name: str) -> None:
    html = figure(DRAWINGS[name])
    root = ElementTree.fromstring(html)
    inks = {(one.get("fill"), one.get("stroke")) for one in root.iter()}

    assert not [one for one in root.iter() if one.get("id") or one.get("style") or one.tag in ("style", "defs", "use", "image", "title")]
    assert inks == {(None, None), ("none", "currentColor")}
    assert "\n" not in html and "nan" not in html and "None" not in html


@pytest.mark.parametrize("name", sorted(DRAWINGS))
def test_each_panel_says_in_whole_sentences_what_it_shows(name: str) -> None:
    drawing = DRAWINGS[name]

    assert drawing.panels
    assert all(len(panel.says) > 40 and panel.says[0].isupper() and panel.says.endswith(".") for panel in drawing.panels)
    assert drawing.caption.endswith(".")
    assert len({panel.says for panel in drawing.panels}) == len(drawing.panels)


@pytest.mark.parametrize("name", sorted(DRAWINGS))
def test_every_number_in_a_drawing_stands_in_its_words_too(name: str) -> None:
    drawing = DRAWINGS[name]
    said = " ".join([drawing.caption, *(panel.says for panel in drawing.panels)])
    drawn = {found for panel in drawing.panels for text in texts(panel) for found in re.findall(r"\d+(?:\.\d+)?", text)}

    assert {found for found in drawn if not re.search(rf"(?<![\d.]){re.escape(found)}(?![\d])", said)} <= AXIS_ENDS.get(name, set())


AXIS_ENDS = {"position-tracks": {"0", "5"}, "airflow-bore": {"1", "2"}, "signal-kinds": {"0"},
             "diagnostic-pins": {"3", "11", "12", "13"}, **{f"injector {length}": {"0"} for length in (20.0, 38.0, 48.5, 100.0)}}
"""Ends of an axis, counts of hands and numbers of empty cavities that say nothing by themselves."""


def test_the_style_knows_every_class_that_is_drawn_and_no_other() -> None:
    drawn = {name for one in DRAWINGS.values() for panel in one.panels for name in classes(panel.marks)}
    styled = set(re.findall(r"\.(d-[a-z]+)", STYLE.read_text("utf-8")))

    assert drawn - {"d-cavity"} == styled


def test_the_same_values_give_the_same_bytes() -> None:
    again = all_drawings()

    assert {name: figure(one) for name, one in again.items()} == {name: figure(one) for name, one in DRAWINGS.items()}


@given(ROWS, st.sampled_from(sorted(faces.OUTLINES)), st.sampled_from(["top", "side", "none", "lever", "wire_clip"]), st.booleans())
def test_a_face_has_as_many_cavities_and_rows_as_its_values_say(rows: list[int], outline: str, latch: str, harness: bool) -> None:
    panel = faces.faces([plug(outline, rows, latch, [])], "pins", harness).panels[0]
    heights = re.findall(r'd-cavity" cx="[\d.-]+" cy="([\d.-]+)"', panel.marks)

    assert len(heights) == sum(rows)
    assert [heights.count(one) for one in dict.fromkeys(heights)] == rows
    assert panel.says.split(" with ")[1].startswith(f"{sum(rows)} cavit")
    assert panel.marks.count('d-solid" cx') == sum(rows)


def test_pins_are_posts_sockets_are_rings_and_the_unknown_is_a_bare_hole() -> None:
    one = MADE_UP["oval"]
    pins, sockets, unknown = (faces.faces([one], terminals).panels[0] for terminals in ("pins", "sockets", faces.UNKNOWN))

    assert "It holds pins." in pins.says and "It holds sockets." in sockets.says and "not known" in unknown.says
    assert sockets.marks.count("<path d") - unknown.marks.count("<path d") == 9
    assert len({pins.marks, sockets.marks, unknown.marks}) == 3


def test_the_harness_half_is_the_mirror_image() -> None:
    face = faces.face_of(plug("rectangle", [4], "side", ["left", "bottom_right", "bottom"]))

    assert set(faces.mirrored(face).ribs) == {"right", "bottom_left", "bottom"}
    assert faces.mirrored(face).latch == "left"
    assert faces.mirrored(faces.mirrored(face)) == face


def test_an_injector_is_as_long_as_its_number_says() -> None:
    for length in (20.0, 48.5, 100.0):
        tops = [float(y) for y in re.findall(r'<rect class="d-keypart" x="[\d.-]+" y="([\d.-]+)"', injectors.of_length(length).panels[0].marks)]

        assert max(tops) - min(tops) == pytest.approx(length * injectors.SCALE, abs=0.11)


@pytest.mark.parametrize(("places", "missing"), [(36, 1), (60, 2), (12, 1), (24, 0)])
def test_a_trigger_wheel_has_the_teeth_that_are_counted(places: int, missing: int) -> None:
    drawing = crank.wheel(places, missing)
    outline = re.findall(r'd-part" d="M([^"]*?)(?:A78|Z)', drawing.panels[0].marks)[0]
    points = [tuple(map(float, point.split())) for point in outline.split("L")]
    far = [((x - 160) ** 2 + (y - 126) ** 2) ** 0.5 > 84 for x, y in points]

    assert sum(second and not first for first, second in zip(far, far[1:])) == places - missing
    assert str(places - missing) in drawing.panels[0].says


def test_the_meter_on_the_bus_shows_what_the_sum_gives() -> None:
    shown = [float(re.findall(r">([\d.]+) Ω</text>", panel.marks)[-1]) for panel in electrics.bus_ends().panels]
    one = REGISTRY["termination_ohm"]
    inputs = {param.name: param.usual for param in one.params}
    count = next(param.name for param in one.params if param.unit == "terminators")

    assert shown == [pytest.approx(one.function(**{**inputs, count: number})) for number in (2, 1, 3)]


def test_every_drawing_is_asked_for_and_every_sum_with_one_exists() -> None:
    asked = {name for names in real_book()["drawings"].values() for found in names.values() for name in found} | {
        name for names in OF_SUMS.values() for name in names}

    assert asked == set(NAMES)
    assert set(OF_SUMS) <= set(REGISTRY)
    assert {name for names in OF_SUMS.values() for name in names} <= set(FIXED)


def test_a_drawing_of_one_panel_is_marked_so_that_it_does_not_grow() -> None:
    panel = Panel("<path d=\"M0 0L1 1\"/>", 10, "A line.")

    assert "db-drawing--one" in figure(Drawing((panel,), "A line."))
    assert "db-drawing--one" not in figure(Drawing((panel, panel), "Two lines."))
