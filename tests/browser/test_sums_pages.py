"""What a sum's page leads to and how it looks: plots, the way into the check and back, without script, on paper, light and dark."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any
from urllib.parse import unquote

import pytest
from playwright.sync_api import Page

from tests.browser.browser import DESKTOP, PHONE, PROJECT, READY, Site, Visit, open_check, quiet
from tests.browser.sums import ASK, SHAFT, TO_HASH, address_of, fill, open_sum, printed, reader, rest, usual, variants
from tests.browser.test_look import CONTRAST
from tests.browser.test_modules import GRAMMAR, MARKUP, quoted
from wizard.engine import answer, load
from wizard.engine.address import from_address, to_address
from wizard.sums.forms import REGISTRY
from wizard.sums.forms.plots import ALONG, Plot, plot

MODULES = sorted((PROJECT / "wizard/web/sums").glob("*.mjs"))


def test_the_worker_gives_the_bytes_of_the_command_line_and_every_plot_is_drawn_from_its_points(visits: Callable[..., Visit], site: Site) -> None:
    asked = [(name, inputs) for name in REGISTRY for inputs in variants(name)]
    page = visits().page
    page.goto(f"{site.address}sums/wire_drop_v/")
    replies = page.evaluate(ASK, [f"{site.address}assets/engine/worker.mjs", asked])
    differing = [(name, inputs) for (name, inputs), reply in zip(asked, replies, strict=True) if reply.get("sum", "") + "\n" != printed(name, inputs)]
    found = {name: curve for (name, _), reply in zip(asked[::4], replies[::4], strict=True) if (curve := json.loads(reply["plot"])) is not None}

    assert len(asked) == 4 * len(REGISTRY) >= 4 * 96
    assert differing == []
    assert set(found) == set(ALONG)
    assert undrawn(page, found) == []


def undrawn(page: Page, curves: dict[str, Any]) -> list[str]:
    """Return the sums whose curve the page does not draw in full, wide and narrow, with the sentence that says the same."""
    page.evaluate("""async (curves) => {
      const { plotFigure } = await import("../../assets/sums/plot.mjs");
      document.querySelector("article").append(...curves.flatMap((curve) => [plotFigure(curve, 600), plotFigure(curve, 300)]));
    }""", list(curves.values()))
    wrong = []
    for place, name in enumerate(curves):
        expected = plot(name, usual(name))
        assert isinstance(expected, Plot)
        for drawn in (page.locator(".db-plot-figure svg[role=img]").nth(2 * place + narrow) for narrow in (0, 1)):
            points = len(re.findall("[ML]", drawn.locator(".db-plot__line").get_attribute("d") or ""))
            box, here = drawn.bounding_box(), drawn.locator(".db-plot__here").bounding_box()
            inside = box["x"] < here["x"] < box["x"] + box["width"] and box["y"] < here["y"] < box["y"] + box["height"]
            if (drawn.get_attribute("aria-label"), points, inside) != (expected.text, len(expected.line), True):
                wrong.append(name)
    return wrong


def test_the_number_goes_into_a_check_and_back_into_the_one_it_came_from(reader: Page, site: Site, book: dict[str, Any]) -> None:
    page = reader
    engine = load(json.dumps(book))
    open_sum(page, site, "pulses_per_km_shaft", address_of(SHAFT))
    fresh = [link.get_attribute("href") for link in page.locator("[data-fill]:visible").all()]
    told = [from_address(engine, link.partition("#")[2]) for link in fresh]
    came_from = to_address(engine, {"slots": {"throttle_body": "not_sure", "host_vehicle": {"told": {"axle_ratio": 4.1}}}})
    open_sum(page, site, "pulses_per_km_shaft", f"{address_of(SHAFT)}&check={came_from.replace('=', '%3D').replace('&', '%26')}")
    back = page.locator("[data-fill]:visible").first.get_attribute("href")
    build, not_used = from_address(engine, back.partition("#")[2])
    page.goto(back)
    page.wait_for_selector(READY)

    assert [build for build, not_used in told if not_used] == []
    assert told[0][0]["slots"]["calibration"]["told"] == {"speed_number": 66310.6}
    assert told[-1][0]["slots"]["host_vehicle"]["told"] == {"axle_ratio": 3.42, "tyre_diameter": 676.4}
    assert not_used == []
    assert build["slots"]["calibration"]["told"] == {"speed_number": 66310.6}
    assert build["slots"]["host_vehicle"]["told"] == {"axle_ratio": 4.1}
    assert "66310.6" in page.inner_text("[data-key=told]").replace("\u202f", "").replace("\u00a0", "")


def test_a_number_that_the_check_does_not_take_is_not_offered(reader: Page, site: Site) -> None:
    page = reader
    open_sum(page, site, "standard_pressure_kpa", "altitude_m=6000")
    outside = page.locator("[data-fill]:visible").count()
    open_sum(page, site, "standard_pressure_kpa", "altitude_m=1000")

    assert (outside, page.locator("[data-fill]:visible").count()) == (0, 1)


def test_a_sum_of_an_answer_leads_to_its_page_with_what_was_told_and_the_number_leads_back(
        reader: Page, site: Site, book: dict[str, Any]) -> None:
    """Numbers and sizes go along as told, nothing for what is only known as a range; what is said later goes along as well."""
    page = reader
    engine = load(json.dumps(book))
    came_from = to_address(engine, {"slots": {
        "speed_source": {"told": {"place": "pinion", "teeth": 40}}, "calibration": {"told": {"speed_number": {"is": 64000, "assumed": True}}},
        "host_vehicle": {"told": {"axle_ratio": {"from": 3, "to": 4}, "tyre_diameter": "225/60R16"}}}})
    open_check(page, site, came_from)
    quiet(page)
    shown = page.locator('details[data-key^="sum speed_error_shaft "]')
    shown.locator("summary").click()
    link = shown.locator("a", has_text="Work it out with other numbers")
    link.focus()
    href = link.get_attribute("href")
    link.click()
    rest(page)
    filled = {name: page.input_value(f"#in-{name}") for name in ("teeth", "axle_ratio", "diameter_mm", "programmed_per_km")}
    notice = page.inner_text("[data-key=notices]")
    fill(page, {"axle_ratio": "3,42"})
    back, not_used = from_address(engine, page.locator("[data-fill]:visible").first.get_attribute("href").partition("#")[2])

    assert href.partition("&check=")[0] == f"{site.address}sums/speed_number_error_percent/#diameter_mm=225/60R16&programmed_per_km=64000&teeth=40"
    assert from_address(engine, unquote(href.partition("&check=")[2])) == from_address(engine, came_from)
    assert filled == {"teeth": "40", "axle_ratio": "", "diameter_mm": "225/60R16", "programmed_per_km": "64000"}
    assert notice.startswith("You came from a check.")
    assert not_used == []
    assert back["slots"]["host_vehicle"]["told"]["axle_ratio"] == 3.42
    assert back["slots"]["speed_source"]["told"] == {"place": "pinion", "teeth": 40}


def test_the_rows_of_an_answers_sum_stand_in_the_order_that_the_link_reads(book: dict[str, Any]) -> None:
    engine = load(json.dumps(book))
    found = json.loads(answer(engine, json.dumps({"slots": {
        "speed_source": {"told": {"teeth": 40}}, "calibration": {"told": {"speed_number": 64000}},
        "host_vehicle": {"told": {"axle_ratio": 3.42, "tyre_diameter": 676}}}})))
    sums = {one["sum"]: [row["name"] for row in one["inputs"]] for one in found["sums"]}

    assert sums
    assert {name: [variable for _, variable in sorted(book["sums"][name]["inputs"].items())] for name in sums} == sums


def test_a_worker_that_cannot_start_is_said_and_the_page_stays(browser, site: Site) -> None:
    context = browser.new_context()
    page = context.new_page()
    context.route("**/worker.mjs", lambda route: route.abort())
    page.goto(f"{site.address}sums/pulses_per_km_shaft/#{address_of(SHAFT)}")
    page.wait_for_selector("[data-key=sum][data-stage=failed]")
    status, example = page.inner_text("[data-key=status]"), page.is_visible(".db-sum-shown")
    context.close()

    assert status.startswith("The part that works out numbers could not be fetched or started.")
    assert example


def test_without_script_formula_inputs_ranges_sources_and_example_are_there(visits: Callable[..., Visit], site: Site) -> None:
    page = visits(PHONE, java_script_enabled=False).page
    page.goto(f"{site.address}sums/pulses_per_km_shaft/")
    text = page.inner_text("article").replace("\u00a0", " ")
    one = REGISTRY["pulses_per_km_shaft"]

    assert page.locator("math:visible mfrac").count() == 1
    assert [said for said in ("1 to 300 pulses, whole", "400 to 1 300 mm (15.7 in to 51.2 in)", "66 310 pulses/km", "106 700 pulses/mile", one.formula,
                              *(param.measure for param in one.params), *(source for _, source in one.sources)) if said not in text] == []
    assert page.locator("form :is(input, button):visible, a[data-fill]:visible").count() == 0


@pytest.mark.parametrize("size", [PHONE, DESKTOP], ids=["phone", "desktop"])
def test_a_page_fits_its_screen_its_text_stands_out_and_everything_has_a_name(visits: Callable[..., Visit], site: Site, size: tuple[int, int]) -> None:
    page = visits(size, color_scheme="light").page
    wide, faint, nameless, grounds = [], [], [], []
    for name in ("wire_drop_v", "airflow_sensor_usable_g_s"):
        given = usual(name)
        open_sum(page, site, name, address_of({**given, list(given)[-1]: "x"}))
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            page.evaluate(TO_HASH, address_of({**given, list(given)[-1]: "x"}))
            rest(page)
            fill(page, {} if "table" in given else given)
            page.wait_for_timeout(100)
            wide.append(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))
            faint += page.evaluate(CONTRAST.replace("[data-key=check] *", "article *"))["worst"]
            grounds.append(page.evaluate("getComputedStyle(document.body).backgroundColor"))
        nameless += page.evaluate("""() => [...document.querySelectorAll("article :is(button, input, a, [role=region], svg)")]
            .filter((one) => one.getAttribute("aria-hidden") !== "true" && !(one.textContent.trim() && one.tagName !== "svg") && !one.ariaLabel && !one.labels?.length)
            .map((one) => one.outerHTML)""")

    assert wide == [0, 0, 0, 0]
    assert faint == []
    assert nameless == []
    assert grounds[0] == grounds[2] != grounds[1] == grounds[3]


def test_the_choice_of_units_shows_only_where_there_are_two(reader: Page, site: Site) -> None:
    reader.goto(f"{site.address}sums/termination_ohm/")
    ohms = reader.is_visible("[data-key=first]")
    reader.goto(f"{site.address}sums/belt_speed_m_s/")

    assert (ohms, reader.is_visible("[data-key=first]")) == (False, True)


def test_on_paper_the_result_and_the_plot_stand_without_buttons(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_sum(page, site, "wire_drop_v", address_of(usual("wire_drop_v")))
    page.emulate_media(media="print")

    assert page.is_visible(".db-sum__value")
    assert page.is_visible(".db-plot")
    assert page.locator("article :is(button, [name=shown-first], a[data-fill]):visible").count() == 0


@pytest.mark.parametrize("file", MODULES, ids=lambda file: file.name)
def test_a_module_never_turns_data_into_mark_up_and_names_no_fact(file, book: dict[str, Any]) -> None:
    text = file.read_text("utf-8")
    ids = {name for section in ("slots", "families", "rules", "sums") for name in book[section]} | set(REGISTRY)
    ids |= {one["id"] for kind in book["kinds"].values() for one in kind["attributes"]}
    known = {name for name in ids - GRAMMAR if "_" in name or "-" in name}

    assert len(MODULES) > 5
    assert MARKUP.findall(text) == []
    assert text.count("\n") < 300
    assert quoted(file) & known == set()
