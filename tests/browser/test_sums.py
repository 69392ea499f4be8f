"""The pages of the sums: the same bytes as the command line, refusals in words, addresses, plots, and the way into the check and back."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from typing import Any

import pytest
from playwright.sync_api import Page

from build_tools.cli import main
from tests.browser.browser import DESKTOP, PATIENCE, PHONE, PROJECT, READY, Site, Visit
from tests.browser.test_look import CONTRAST
from tests.browser.test_modules import GRAMMAR, MARKUP, quoted
from wizard.engine import answer, load
from wizard.engine.address import from_address, to_address
from wizard.sums import REGISTRY
from wizard.sums.plots import ALONG, Plot, plot

TABLE = "1500:2 2500:7 4000:24 6000:75 8000:165 10000:300 12000:480"      # invented
MODULES = sorted((PROJECT / "wizard/web/sums").glob("*.mjs"))
SHAFT = {"teeth": "40", "axle_ratio": "3.42", "diameter_mm": "225/60R16"}
ASK = """async ([engine, asked]) => {
  const worker = new Worker(engine, { type: "module" });
  const replies = await new Promise((resolve) => {
    const heard = new Map();
    worker.onmessage = ({ data }) => {
      if (data.id !== undefined) heard.set(data.id, data);
      if (heard.size === asked.length) resolve(asked.map((_, id) => heard.get(id)));
    };
    asked.forEach(([name, inputs], id) => worker.postMessage({ id, op: "sum", name, inputs: JSON.stringify(inputs) }));
  });
  worker.terminate();
  return replies;
}"""
Inputs = dict[str, str]


def usual(name: str) -> Inputs:
    """Return the usual inputs of a sum as a person would type them."""
    return {p.name: TABLE if p.usual is None else f"{p.usual:.12g}" for p in REGISTRY[name].params}


def variants(name: str) -> list[Inputs]:
    """Return inputs that give a result, inputs with the first too large, and inputs with the last left out."""
    given = usual(name)
    first, last = list(given)[0], list(given)[-1]
    return [given, {**given, first: "9e99"}, {**given, last: ""}, {**given, "no_such": "1"}]


def printed(name: str, inputs: Inputs) -> str:
    """Return what `donorbook sum NAME key=value ... --json` prints."""
    out = io.StringIO()
    with redirect_stdout(out), redirect_stderr(io.StringIO()):
        main(["sum", name, *(f"{key}={value}" for key, value in inputs.items()), "--json"])
    return out.getvalue()


def open_sum(page: Page, site: Site, name: str, address: str = "") -> None:
    """Open the page of a sum, with what follows the `#`; with that, wait until it is worked out."""
    page.goto("about:blank")
    page.goto(f"{site.address}sums/{name}/" + (f"#{address}" if address else ""))
    if address:
        rest(page)


def rest(page: Page) -> None:
    """Wait until everything typed has been worked out."""
    page.wait_for_function("document.querySelector('[data-key=sum]').dataset.resting === 'yes'", timeout=PATIENCE)


def fill(page: Page, inputs: Inputs) -> None:
    """Fill in fields and press the button."""
    for name, text in inputs.items():
        page.fill(f"#in-{name}", text)
    page.click("[data-key=sum] [type=submit]")
    rest(page)


def address_of(inputs: Inputs) -> str:
    """Return inputs as they stand in an address."""
    return "&".join(f"{name}={text.replace(' ', '%20')}" for name, text in inputs.items())


def result_text(page: Page) -> str:
    """Return what the result shows."""
    return page.inner_text("[data-key=result]").replace("\u00a0", " ")


def test_the_worker_gives_the_bytes_of_the_command_line_for_every_sum(visits: Callable[..., Visit], site: Site) -> None:
    asked = [(name, inputs) for name in REGISTRY for inputs in variants(name)]
    page = visits().page
    page.goto(f"{site.address}sums/")
    replies = page.evaluate(ASK, [f"{site.address}assets/engine/worker.mjs", asked])
    differing = [(name, inputs) for (name, inputs), reply in zip(asked, replies, strict=True) if reply.get("sum", "") + "\n" != printed(name, inputs)]
    curves = [json.loads(reply["plot"]) is not None for reply in replies[::4]]

    assert len(asked) == 4 * len(REGISTRY) >= 4 * 96
    assert differing == []
    assert curves == [name in ALONG for name in REGISTRY]


@pytest.mark.parametrize(("name", "inputs"), [
    ("pulses_per_km_shaft", SHAFT),
    ("wire_drop_v", {"current_a": "10000 mA", "length_m": "13.1 ft", "section_mm2": "AWG 16", "temp_c": "140 F"}),
    ("airflow_sensor_g_s", {"table": TABLE, "frequency_hz": "9 kHz"}),
    ("termination_ohm", {"terminators": "2", "terminator_ohm": "0.12 kΩ"}),
    ("tyre_revs_per_km", {"diameter_mm": "31x10.50R15"}),
])
def test_a_page_shows_what_the_command_line_prints(visits: Callable[..., Visit], site: Site, name: str, inputs: Inputs) -> None:
    page = visits().page
    open_sum(page, site, name, address_of(inputs))
    found = json.loads(printed(name, inputs))
    shown = result_text(page)

    assert page.get_attribute("[data-key=sum]", "data-text") + "\n" == printed(name, inputs)
    assert [text for text in (found["shown"], found["shown_other"], *(one["shown"] for one in found["inputs"]),
                              *(one["shown_lower"] for one in found["effects"])) if text.replace("\u00a0", " ") not in shown] == []
    if found["band"]:
        assert found["band"]["says"] in shown


def test_the_form_is_there_at_once_and_what_is_typed_while_python_starts_is_worked_out(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    held: list[Any] = []
    page.context.route("**/pyodide.asm.wasm", lambda route: held.append(route))
    open_sum(page, site, "pulses_per_km_shaft")
    page.fill("#in-teeth", "40")
    page.wait_for_function("document.querySelector('[data-key=status]').textContent.includes('already fill in')")
    page.fill("#in-axle_ratio", "3.42")
    page.fill("#in-diameter_mm", "225/60R16")
    page.wait_for_timeout(500)
    before = result_text(page)
    for _ in range(100):
        if held:
            break
        page.wait_for_timeout(100)
    held[0].continue_()
    rest(page)

    assert "pulses/km" not in before
    assert "66 310 pulses/km" in result_text(page)
    assert page.inner_text("[data-key=status]") == ""


def test_a_usual_value_is_shown_but_never_used_without_being_told(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_sum(page, site, "pulses_per_km_shaft")
    placeholder = page.get_attribute("#in-teeth", "placeholder")
    fill(page, {"axle_ratio": "3.42"})
    refusals = {name: page.inner_text(f"#wrong-{name}").replace("\u00a0", " ") for name in SHAFT}

    assert placeholder == "such as 40"
    assert json.loads(page.get_attribute("[data-key=sum]", "data-text"))["verdict"] == "cannot-tell"
    assert refusals["teeth"] == "Still to be filled in: a whole number from 1 to 300 pulses."
    assert refusals["axle_ratio"] == ""
    assert "tyre size such as 225/60R16" in refusals["diameter_mm"]
    assert "Still missing: Pulses per turn of the target and Tyre diameter." in result_text(page)


@pytest.mark.parametrize(("name", "bad", "field", "said"), [
    ("pulses_per_km_shaft", {**SHAFT, "teeth": "40.5"}, "teeth", "Cannot be '40.5': expected a whole number from 1 to 300 pulses."),
    ("pulses_per_km_shaft", {**SHAFT, "diameter_mm": "3 psi"}, "diameter_mm", "Cannot be '3 psi': expected a number from 400 to 1 300 mm, or a tyre size"),
    ("airflow_sensor_g_s", {"table": "1500:2 4000:24", "frequency_hz": "2000"}, "table", "The table cannot be used: it has 2 points. Expected: at least three"),
    ("airflow_sensor_g_s", {"table": TABLE, "frequency_hz": "20000"}, "table", "a table is never continued past its ends"),
])
def test_what_cannot_be_used_is_refused_in_words_beside_its_field(
        visits: Callable[..., Visit], site: Site, name: str, bad: Inputs, field: str, said: str) -> None:
    page = visits().page
    open_sum(page, site, name, address_of(bad))
    refusals = {one: page.inner_text(f"#wrong-{one}").replace("\u00a0", " ") for one in bad}

    assert said in refusals.pop(field)
    assert set(refusals.values()) == {""}
    assert page.locator(f"[data-field={field}] [aria-invalid=true]").count() > 0
    assert page.locator(".db-sum__value").count() == 0


def test_the_address_fills_the_form_and_names_what_it_did_not_use(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_sum(page, site, "pulses_per_km_shaft", "teeth=40&axle_ratio=3.42&diameter_mm=225%2F60R16&gear=2&teeth=3&first=both&axle=%")
    notice = page.inner_text("[data-key=notices]")
    open_sum(page, site, "pulses_per_km_shaft", "teeth=40&axle_ratio=3.42&diameter_mm=225%2F60R16")
    quiet = page.inner_text("[data-key=notices]")

    assert [line for line in ("gear=2 This sum has no such input.", "teeth=3 It is said twice; the first one counts.",
                              "first=both Only si or other can stand here.", "axle It cannot be read.") if line not in notice] == []
    assert quiet == ""
    assert page.input_value("#in-teeth") == "40"
    assert page.input_value("#in-diameter_mm") == "225/60R16"


def test_what_is_filled_in_goes_into_the_address_and_opens_the_same_elsewhere(visits: Callable[..., Visit], site: Site) -> None:
    page, other = visits().page, visits().page
    open_sum(page, site, "pulses_per_km_shaft")
    fill(page, SHAFT)
    page.check("[name=shown-first][value=other]")
    other.goto(page.url)
    rest(other)

    assert page.url.endswith("sums/pulses_per_km_shaft/#teeth=40&axle_ratio=3.42&diameter_mm=225/60R16&first=other")
    assert result_text(other) == result_text(page)


def test_the_reader_chooses_which_unit_system_comes_first_and_both_print(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_sum(page, site, "pulses_per_km_shaft", address_of(SHAFT))
    metric = page.inner_text(".db-sum__value").replace("\u00a0", " ")
    page.check("[name=shown-first][value=other]")
    miles = page.inner_text(".db-sum__value").replace("\u00a0", " ")
    page.check("[name=shown-first][value=si]")

    assert metric == "66 310 pulses/km (106 700 pulses/mile)"
    assert miles == "106 700 pulses/mile (66 310 pulses/km)"
    assert "first=" not in page.url


def test_a_table_can_be_typed_in_rows_or_pasted_whole(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_sum(page, site, "airflow_sensor_g_s")
    cells = page.locator("[data-field=table] input")
    for place, text in enumerate(["1500", "2", "4000", "24", "10000", "300"]):
        cells.nth(place).fill(text)
    fill(page, {"frequency_hz": "5000"})
    typed = page.get_attribute("[data-key=sum]", "data-text")
    page.evaluate("""(text) => {
      const data = new DataTransfer();
      data.setData("text", text);
      document.querySelector("[data-field=table] input").dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }));
    }""", "1500\t2\n4000\t24\n6000\t75\n10000\t300\n12000\t480")
    page.wait_for_function("before => document.querySelector('[data-key=sum]').dataset.text !== before", arg=typed)
    rest(page)

    assert typed + "\n" == printed("airflow_sensor_g_s", {"table": "1500:2 4000:24 10000:300", "frequency_hz": "5000"})
    assert page.url.endswith("table=1500:2%204000:24%206000:75%2010000:300%2012000:480&frequency_hz=5000")


def test_starting_from_the_example_gives_the_example_and_starting_over_clears_it(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_sum(page, site, "coolant_flow_l_min")
    page.click("[data-key=example]")
    rest(page)
    example, got = page.inner_text(".db-sum-shown"), page.inner_text(".db-sum__value")
    page.click("[data-key=start-over]")
    rest(page)

    assert got == example
    assert page.locator(".db-sum__value").count() == 0
    assert "#" not in page.url


def test_every_plot_is_drawn_from_the_engines_points_with_its_sentence(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    undrawn = []
    for name in sorted(ALONG):
        open_sum(page, site, name, address_of(usual(name)))
        expected = plot(name, usual(name))
        drawn = page.locator("[data-key=result] svg[role=img]")
        points = len(re.findall("[ML]", drawn.locator(".db-plot__line").get_attribute("d") or ""))
        assert isinstance(expected, Plot)
        if (drawn.get_attribute("aria-label"), points) != (expected.text, len(expected.line)):
            undrawn.append(name)
        box, here = drawn.bounding_box(), drawn.locator(".db-plot__here").bounding_box()
        if not (box["x"] < here["x"] < box["x"] + box["width"] and box["y"] < here["y"] < box["y"] + box["height"]):
            undrawn.append(f"{name}: the reader's own point")

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
    for name in ("wire_drop_v", "airflow_sensor_usable_g_s", "engine_airflow_g_s", "case_return_error_v"):
        given = usual(name)
        open_sum(page, site, name, address_of({**given, list(given)[-1]: "x"}))
        fill(page, {} if "table" in given else given)
        page.wait_for_timeout(100)
        wide.append(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))
        faint += page.evaluate(CONTRAST.replace("[data-key=check] *", "article *"))["worst"]
        nameless += page.evaluate("""() => [...document.querySelectorAll("article :is(button, input, a, [role=region], svg)")]
            .filter((one) => one.getAttribute("aria-hidden") !== "true" && !(one.textContent.trim() && one.tagName !== "svg") && !one.ariaLabel && !one.labels?.length)
            .map((one) => one.outerHTML)""")

    assert wide == [0, 0, 0, 0]
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
