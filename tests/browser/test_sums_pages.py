"""What a sum's page leads to and how it looks: plots, the way into the check and back, without script, on paper, light and dark."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.browser import DESKTOP, PHONE, PROJECT, READY, Site, Visit
from tests.browser.sums import ASK, SHAFT, address_of, fill, open_sum, rest, usual
from tests.browser.test_look import CONTRAST
from tests.browser.test_modules import GRAMMAR, MARKUP, quoted
from wizard.engine import answer, load
from wizard.engine.address import from_address, to_address
from wizard.sums.forms import REGISTRY
from wizard.sums.forms.plots import ALONG, Plot, plot

MODULES = sorted((PROJECT / "wizard/web/sums").glob("*.mjs"))


def test_every_plot_is_drawn_from_the_engines_points_with_its_sentence(visits: Callable[..., Visit], site: Site) -> None:
    asked = [(name, usual(name)) for name in sorted(ALONG)]
    page = visits().page
    page.goto(f"{site.address}sums/wire_drop_v/")
    curves = [json.loads(reply["plot"]) for reply in page.evaluate(ASK, [f"{site.address}assets/engine/worker.mjs", asked])]
    page.evaluate("""async (curves) => {
      const { plotFigure } = await import("../../assets/sums/plot.mjs");
      document.querySelector("article").append(...curves.flatMap((curve) => [plotFigure(curve, 600), plotFigure(curve, 300)]));
    }""", curves)
    undrawn = []
    for place, (name, inputs) in enumerate(asked):
        expected = plot(name, inputs)
        assert isinstance(expected, Plot)
        for drawn in (page.locator(".db-plot-figure svg[role=img]").nth(2 * place + narrow) for narrow in (0, 1)):
            points = len(re.findall("[ML]", drawn.locator(".db-plot__line").get_attribute("d") or ""))
            box, here = drawn.bounding_box(), drawn.locator(".db-plot__here").bounding_box()
            inside = box["x"] < here["x"] < box["x"] + box["width"] and box["y"] < here["y"] < box["y"] + box["height"]
            if (drawn.get_attribute("aria-label"), points, inside) != (expected.text, len(expected.line), True):
                undrawn.append(name)

    assert len(ALONG) > 10
    assert undrawn == []


def test_the_number_goes_into_a_check_and_back_into_the_one_it_came_from(visits: Callable[..., Visit], site: Site, book: dict[str, Any]) -> None:
    page = visits().page
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


def test_a_number_that_the_check_does_not_take_is_not_offered(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_sum(page, site, "standard_pressure_kpa", "altitude_m=6000")
    outside = page.locator("[data-fill]:visible").count()
    open_sum(page, site, "standard_pressure_kpa", "altitude_m=1000")

    assert (outside, page.locator("[data-fill]:visible").count()) == (0, 1)


def test_a_sum_of_an_answer_leads_to_its_page_with_what_was_told(visits: Callable[..., Visit], site: Site, book: dict[str, Any]) -> None:
    """What the check calls from its list of sums: numbers and sizes as told, nothing for what is only known as a range."""
    build = {"slots": {"speed_source": {"told": {"place": "output_shaft", "teeth": 40}}, "calibration": {"told": {"speed_number": {"is": 64000, "assumed": True}}},
                       "host_vehicle": {"told": {"axle_ratio": {"from": 3, "to": 4}, "tyre_diameter": "225/60R16"}}}}
    record = book["sums"]["speed_error_shaft"]
    rows = [{"name": variable, "low": 1.0, "high": 2.0, "known": True} for _, variable in sorted(record["inputs"].items())]
    page = visits().page
    page.goto(f"{site.address}check/")
    link = page.evaluate("""async ([data, build, entry]) => (await import("../assets/sums/link.mjs")).sumLink(data, build, entry, "a=b")""",
                         [book, build, {"sum": "speed_error_shaft", "inputs": rows}])
    page.goto(link)
    rest(page)

    assert link == f"{site.address}sums/{record['function']}/#diameter_mm=225/60R16&programmed_per_km=64000&teeth=40&check=a%3Db"
    assert page.input_value("#in-teeth") == "40"
    assert page.input_value("#in-axle_ratio") == ""
    assert page.inner_text("[data-key=notices]").startswith("You came from a check.")


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


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, DESKTOP], ids=["phone", "desktop"])
def test_a_page_fits_its_screen_its_text_stands_out_and_everything_has_a_name(
        visits: Callable[..., Visit], site: Site, size: tuple[int, int], scheme: str) -> None:
    page = visits(size, color_scheme=scheme).page
    wide, faint, nameless = [], [], []
    for name in ("wire_drop_v", "airflow_sensor_usable_g_s"):
        given = usual(name)
        open_sum(page, site, name, address_of({**given, list(given)[-1]: "x"}))
        fill(page, {} if "table" in given else given)
        page.wait_for_timeout(100)
        wide.append(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))
        faint += page.evaluate(CONTRAST.replace("[data-key=check] *", "article *"))["worst"]
        nameless += page.evaluate("""() => [...document.querySelectorAll("article :is(button, input, a, [role=region], svg)")]
            .filter((one) => one.getAttribute("aria-hidden") !== "true" && !(one.textContent.trim() && one.tagName !== "svg") && !one.ariaLabel && !one.labels?.length)
            .map((one) => one.outerHTML)""")

    assert wide == [0, 0]
    assert faint == []
    assert nameless == []


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
