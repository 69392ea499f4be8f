"""A built and served site, a browser, and visits that must end without a complaint or a foreign request."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.browser import DESKTOP, Site, Visit, build_for_tests, open_check, served, visit


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """Return the site, built from the facts as they are and served."""
    with served(build_for_tests(tmp_path_factory.mktemp("site"))) as found:
        yield found


@pytest.fixture(scope="session")
def book(site: Site) -> dict[str, Any]:
    """Return the book that the site holds, its two shares put together."""
    folder = site.folder / "assets/engine"
    manifest = json.loads((folder / "manifest.json").read_text("utf-8"))
    whole, beside = (json.loads((folder / manifest[name]).read_text("utf-8")) for name in ("book", "beside"))
    for section, records in beside.items():
        for name, record in records.items():
            whole[section].setdefault(name, {}).update(record)
    return dict(whole)


@pytest.fixture(scope="session")
def browser(chromium: Browser) -> Browser:
    """Return the running Chromium; every visit is a fresh profile of it."""
    return chromium


@pytest.fixture
def visits(browser: Browser, site: Site) -> Iterator[Callable[..., Visit]]:
    """Return a way to open fresh profiles; afterwards none may have complained or asked another host for anything."""
    opened: list[Visit] = []
    with ExitStack() as stack:
        def one(size: tuple[int, int] = DESKTOP, **ways: Any) -> Visit:
            opened.append(stack.enter_context(visit(browser, site, size, **ways)))
            return opened[-1]

        yield one
    assert [text for made in opened for text in (*made.complaints, *made.foreign)] == []


@pytest.fixture(scope="session")
def reader(browser: Browser, site: Site) -> Iterator[Visit]:
    """Return one desktop profile that stays open: booting the engine anew for each test would take most of the time."""
    with visit(browser, site) as made:
        yield made


@pytest.fixture
def page(reader: Visit, site: Site) -> Iterator[Page]:
    """Return the page of that profile with nothing said; it must end without a complaint or a foreign request."""
    reader.complaints.clear()
    reader.foreign.clear()
    if reader.page.url.startswith(f"{site.address}check/"):
        open_check(reader.page, site)
        reader.page.fill("#db-box", "")
        reader.page.evaluate("document.activeElement?.blur(); scrollTo(0, 0)")
    yield reader.page
    assert [*reader.complaints, *reader.foreign] == []
