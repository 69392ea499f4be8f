"""Drawings stand on the pages whose records ask for them, and nowhere in what a browser loads to answer."""

from __future__ import annotations

from pathlib import Path

from build_tools.shares import NEVER_READ
from build_tools.drawings.registry import FIXED, OF_SUMS
from tests.site.building import real_book

STYLE = "assets/style/drawings.css"


def pages_asked(site: Path) -> dict[Path, list[str]]:
    """Return each page that must show drawings, with the names of the fixed ones."""
    asked = real_book()["drawings"]
    wanted = {site / "find-out" / name / "index.html": names for name, names in asked["find_out"].items()}
    wanted |= {site / "rules" / name / "index.html": names for name, names in asked["rules"].items()}
    return wanted | {site / "sums" / name / "index.html": list(names) for name, names in OF_SUMS.items()}


def test_every_drawing_that_is_asked_for_is_on_its_page_with_its_style(site: Path) -> None:
    wanted = pages_asked(site)
    lacking = []
    for file, names in wanted.items():
        text = file.read_text("utf-8")
        said = [panel.says.replace('"', "&quot;").replace("'", "&#x27;") for name in names for panel in FIXED[name]().panels]
        if STYLE not in text or any(f'aria-label="{one}"' not in text for one in said):
            lacking.append(file.parent.name)

    assert len(wanted) > 50
    assert lacking == []


def test_a_listed_part_shows_its_own_plug_with_its_own_terminals(site: Path) -> None:
    text = (site / "parts/oxygen_sensor/o2_pm_first/index.html").read_text("utf-8")
    other = (site / "parts/injector/inj_pm_second/index.html").read_text("utf-8")

    assert "4 cavities in rows of 2 and 2 from the top, a latch at the top and one rib at the left. It holds pins." in text
    assert "60 millimetres from the middle of the lower O-ring" in other
    assert "Whether it holds pins or sockets is not known." in other


def test_faces_that_differ_only_in_a_rib_are_told_apart(site: Path) -> None:
    text = (site / "faces/index.html").read_text("utf-8")

    assert "one rib at the left." in text
    assert "one rib at the right." in text


def test_pages_without_a_drawing_do_not_load_the_style(site: Path) -> None:
    assert STYLE not in (site / "rules/imm-host/index.html").read_text("utf-8")


def test_the_words_of_drawings_stay_out_of_the_search(site: Path) -> None:
    index = (site / "search/search_index.json").read_text("utf-8")

    assert "The starter draws hundreds of amperes" not in index
    assert "12 V, by a fuse" not in index


def test_what_a_browser_loads_holds_no_drawings() -> None:
    book = real_book()

    assert {"drawings", "faces"} <= set(NEVER_READ) & set(book)


def test_a_kind_shows_each_face_under_the_words_of_its_value(site: Path) -> None:
    text = (site / "parts/injector/index.html").read_text("utf-8")

    assert '<p class="db-drawing__title">Rectangular, held by a wire clip</p>' in text
    assert 'href="../faces/"' in (site / "parts/index.html").read_text("utf-8")
