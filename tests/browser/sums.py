"""The moves that the tests of the sums' pages share: usual inputs, the command line's bytes, opening and filling a page."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout

import pytest
from playwright.sync_api import Browser, Page

from build_tools.cli import main
from tests.browser.browser import PATIENCE, Site, visit
from wizard.sums.forms import REGISTRY

TABLE = "1500:2 2500:7 4000:24 6000:75 8000:165 10000:300 12000:480"      # invented
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
TO_HASH = """(text) => new Promise((done) => {
  if (location.hash === `#${text}`) return done();
  addEventListener("hashchange", () => done(), { once: true });
  location.hash = text;
})"""
Inputs = dict[str, str]


@pytest.fixture(scope="module")
def reader(browser: Browser, site: Site) -> Iterator[Page]:
    """Return the page of one reader who goes from address to address, so that Python starts once for each sum, not each test."""
    with visit(browser, site) as one:
        yield one.page

        assert [*one.complaints, *one.foreign] == []


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
    """Open the page of a sum, with what follows the `#`; with that, wait until it is worked out.

    On the page of that sum already, the address alone changes, as when somebody follows a link to the same page.
    """
    home = f"{site.address}sums/{name}/"
    if address and page.url.partition("#")[0] == home:
        page.evaluate(TO_HASH, address)
    else:
        page.goto("about:blank")
        page.goto(home + (f"#{address}" if address else ""))
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
