"""The form of a sum's page: the same bytes as the command line, refusals in words, addresses, units, tables."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.browser import Site, Visit
from tests.browser.sums import SHAFT, TABLE, Inputs, address_of, fill, open_sum, printed, reader, rest, result_text


@pytest.mark.parametrize(("name", "inputs"), [
    ("wire_drop_v", {"current_a": "10000 mA", "length_m": "13,1 ft", "section_mm2": "AWG 16", "temp_c": "140 F"}),
    ("terminators_from_reading", {"reading_ohm": "118", "terminator_ohm": "0.12 kΩ"}),
    ("tyre_revs_per_km", {"diameter_mm": "31x10.50R15"}),
    ("pulses_per_km_shaft", SHAFT),
    ("airflow_sensor_g_s", {"table": TABLE, "frequency_hz": "9 kHz"}),
])
def test_a_page_shows_what_the_command_line_prints(reader: Page, site: Site, name: str, inputs: Inputs) -> None:
    page = reader
    open_sum(page, site, name, address_of(inputs))
    found = json.loads(printed(name, inputs))
    shown = result_text(page)

    assert page.get_attribute("[data-key=sum]", "data-text") + "\n" == printed(name, inputs)
    assert [text for text in (found["shown"], found["shown_other"], *(one["shown"] for one in found["inputs"]),
                              *(one["shown_lower"] for one in found["effects"])) if text.replace("\u00a0", " ") not in shown] == []
    assert found["tells"] in shown
    assert (found["band"] or {"says": ""})["says"] in shown


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


@pytest.mark.parametrize(("name", "bad", "field", "said"), [
    ("airflow_sensor_g_s", {"table": "1500:2 4000:24", "frequency_hz": "2000"}, "table", "The table cannot be used: it has 2 points. Expected: at least three"),
    ("airflow_sensor_g_s", {"table": TABLE, "frequency_hz": "20000"}, "table", "a table is never continued past its ends"),
    ("pulses_per_km_shaft", {**SHAFT, "teeth": "40.5"}, "teeth", "Cannot be '40.5': expected a whole number from 1 to 300 pulses."),
    ("pulses_per_km_shaft", {**SHAFT, "diameter_mm": "3 psi"}, "diameter_mm", "Cannot be '3 psi': expected a number from 400 to 1 300 mm, or a tyre size"),
    ("pulses_per_km_shaft", {**SHAFT, "axle_ratio": "-3,42"}, "axle_ratio", "Cannot be '-3,42': expected a ratio from 2 to 8."),
    ("pulses_per_km_shaft", {**SHAFT, "axle_ratio": "3,420"}, "axle_ratio", "a comma before three digits can be read in two ways"),
    ("pulses_per_km_shaft", {**SHAFT, "teeth": "9e99"}, "teeth", "Cannot be '9e99': expected a whole number from 1 to 300 pulses."),
])
def test_what_cannot_be_used_is_refused_in_words_beside_its_field(
        reader: Page, site: Site, name: str, bad: Inputs, field: str, said: str) -> None:
    page = reader
    open_sum(page, site, name, address_of(bad))
    refusals = {one: page.inner_text(f"#wrong-{one}").replace("\u00a0", " ") for one in bad}

    assert said in refusals.pop(field)
    assert set(refusals.values()) == {""}
    assert page.locator(f"[data-field={field}] [aria-invalid=true]").count() > 0
    assert page.locator(".db-sum__value").count() == 0


def test_the_address_fills_the_form_and_names_what_it_did_not_use(reader: Page, site: Site) -> None:
    page = reader
    open_sum(page, site, "pulses_per_km_shaft", "teeth=40&axle_ratio=3.42&diameter_mm=225%2F60R16&gear=2&teeth=3&first=both&axle=%")
    notice = page.inner_text("[data-key=notices]")
    open_sum(page, site, "pulses_per_km_shaft", "teeth=40&axle_ratio=3.42&diameter_mm=225%2F60R16")
    quiet = page.inner_text("[data-key=notices]")

    assert [line for line in ("gear=2 This sum has no such input.", "teeth=3 It is said twice; the first one counts.",
                              "first=both Only si or other can stand here.", "axle It cannot be read.") if line not in notice] == []
    assert quiet == ""
    assert page.input_value("#in-teeth") == "40"
    assert page.input_value("#in-diameter_mm") == "225/60R16"


def test_what_is_filled_in_goes_into_the_address_and_opens_the_same_elsewhere(visits: Callable[..., Visit], reader: Page, site: Site) -> None:
    page, other = visits().page, reader
    open_sum(page, site, "pulses_per_km_shaft")
    fill(page, SHAFT)
    page.check("[name=shown-first][value=other]")
    open_sum(other, site, "pulses_per_km_shaft", page.url.partition("#")[2])

    assert page.url.endswith("sums/pulses_per_km_shaft/#teeth=40&axle_ratio=3.42&diameter_mm=225/60R16&first=other")
    assert result_text(other) == result_text(page)


def test_the_link_that_is_copied_is_the_address_of_the_result(visits: Callable[..., Visit], site: Site) -> None:
    page = visits(permissions=["clipboard-read", "clipboard-write"]).page
    open_sum(page, site, "termination_ohm", "terminators=2&terminator_ohm=120")
    page.click("[data-key=result] .db-press--main")
    page.wait_for_function("document.querySelector('.db-copied').textContent.startsWith('Copied')")

    assert page.evaluate("navigator.clipboard.readText()") == f"{site.address}sums/termination_ohm/#terminators=2&terminator_ohm=120"


def test_the_reader_chooses_which_unit_system_comes_first_and_both_print(reader: Page, site: Site) -> None:
    page = reader
    open_sum(page, site, "pulses_per_km_shaft", address_of(SHAFT))
    metric = page.inner_text(".db-sum__value").replace("\u00a0", " ")
    page.check("[name=shown-first][value=other]")
    miles = page.inner_text(".db-sum__value").replace("\u00a0", " ")
    page.check("[name=shown-first][value=si]")

    assert metric == "66 310 pulses/km (106 700 pulses/mile)"
    assert miles == "106 700 pulses/mile (66 310 pulses/km)"
    assert "first=" not in page.url


def test_a_usual_value_is_shown_but_never_used_without_being_told(reader: Page, site: Site) -> None:
    page = reader
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


def test_a_table_can_be_typed_in_rows_or_pasted_whole(reader: Page, site: Site) -> None:
    page = reader
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
