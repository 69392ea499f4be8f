"""A real browser on a freshly built site: what it fetched, what it complained of, and the moves that tests share."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

from playwright.sync_api import Browser, BrowserContext, Page

PROJECT = Path(__file__).resolve().parent.parent.parent
CHOSEN_SITE = "DONORBOOK_TEST_SITE"
"""Names a site that was built before, to be tested in place of a fresh one."""
PHONE, DESKTOP = (390, 844), (1280, 900)
READY = "[data-key=check][data-stage=ready]"
PATIENCE = 90_000
GO = """(address) => new Promise((done) => { addEventListener("hashchange", () => done(), { once: true }); location.hash = address })"""
LINKED = (".cache", "facts", "kb", "mkdocs.yml", "node_modules", "package.json", "wizard")


class Site(NamedTuple):
    """A served site: its address with a slash at the end, and its folder."""

    address: str
    folder: Path


class Visit(NamedTuple):
    """One reader's browser: the page, what its console complained of, and every request to another host."""

    page: Page
    context: BrowserContext
    complaints: list[str]
    foreign: list[str]


def build_for_tests(folder: Path) -> Path:
    """Return a site built from the project's files into `folder`, or the one that DONORBOOK_TEST_SITE names."""
    from build_tools.build import build_site
    from build_tools.config import configured_layers
    from build_tools.index import index
    from build_tools.records import gather

    if os.environ.get(CHOSEN_SITE):
        return Path(os.environ[CHOSEN_SITE])
    (PROJECT / ".cache").mkdir(exist_ok=True)
    for name in LINKED:
        (folder / name).symlink_to(PROJECT / name)
    layers = configured_layers(PROJECT)
    return build_site(index(gather(layers)), lambda text: None, folder)


@contextmanager
def served(folder: Path) -> Iterator[Site]:
    """Serve a built site on a free port of this machine."""
    from build_tools.serve import address_of, open_server

    with open_server(folder, 0) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield Site(address_of(server), folder)
        server.shutdown()


@contextmanager
def visit(browser: Browser, site: Site, size: tuple[int, int] = DESKTOP, **ways: Any) -> Iterator[Visit]:
    """Open a fresh profile that listens for complaints and for requests to other hosts."""
    phone = size[0] < 600
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, has_touch=phone, is_mobile=phone, **ways)
    page = context.new_page()
    page.set_default_timeout(PATIENCE)
    complaints: list[str] = []
    foreign: list[str] = []
    page.on("console", lambda said: complaints.append(f"{said.type}: {said.text}") if said.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: complaints.append(f"error: {error}"))
    context.on("request", lambda asked: None if own(asked.url, site) else foreign.append(asked.url))
    yield Visit(page, context, complaints, foreign)
    context.close()


def own(url: str, site: Site) -> bool:
    """Return whether a request stays on the site; what the page itself made is its own."""
    return url.startswith((site.address, "data:", f"blob:{site.address.rstrip('/')}"))


def open_check(page: Page, site: Site, address: str = "") -> None:
    """Open the check, with what follows the `#`, and wait until it can answer.

    A page that shows the check already stays, as it does for a reader who follows a link in it: only the address changes.
    """
    here, _, said = page.url.partition("#")
    if here != f"{site.address}check/":
        page.goto(f"{site.address}check/#{address}")
    elif said != address:
        page.evaluate(GO, address)
    page.wait_for_selector(READY)


def key(name: str) -> str:
    """Return the selector of an element by its key."""
    return f'[data-key="{name}"]'


def say(page: Page, text: str) -> None:
    """Type into the box and say the first thing found, as a seller would, then wait for the answer to it."""
    page.locator(key("box")).focus()
    page.keyboard.type(text)
    page.wait_for_selector(f'{key("options")} [role=option]')
    settled(page, lambda: page.keyboard.press("Enter"))


def settled(page: Page, act: Callable[[], object]) -> None:
    """Do something that changes what was told, and wait until address and answer have followed it."""
    before = page.url
    act()
    page.wait_for_function("before => location.href !== before", arg=before)
    quiet(page)


def quiet(page: Page) -> None:
    """Wait until the engine is at rest."""
    page.wait_for_function("document.querySelector('[data-key=check]').dataset.resting === 'yes'")


def text_of(page: Page, name: str) -> str:
    """Return the text an element shows, by its key."""
    return page.locator(key(name)).first.inner_text().strip()


def answer_text(page: Page) -> str:
    """Return the whole answer as text, folded parts included, for comparing two profiles."""
    return text_of(page, "verdict-words") + "\n" + str(page.locator(key("answer")).evaluate("node => node.textContent"))
