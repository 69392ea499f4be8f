"""The worker in a real browser: it answers, it queues, it talks to nobody else, and it fails in words."""

from __future__ import annotations

import functools
import json
import threading
from collections.abc import Callable, Iterator
from http.server import ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from build_tools.serve import HOST, SiteHandler, address_of
from tests.runtime.stub import BOOK, EDITION, stub_bundle

PAGE = """<!doctype html>
<meta charset="utf-8">
<title>Worker</title>
<link rel="icon" href="data:,">
<script type="module">
window.heard = [];
const worker = new Worker(new URL("engine/worker.mjs", location.href), { type: "module" });
worker.onmessage = ({ data }) => { window.heard.push(data); };
window.ask = (message) => worker.postMessage(message);
window.ask({ id: 1, op: "answer", build: '{"slots": {"early": 1}}' });
</script>
"""
PATIENCE = 60_000


@pytest.fixture
def opened(chromium: Browser, tmp_path: Path) -> Iterator[Callable[..., Page]]:
    """Return a function that serves a bundle, spoils it as asked, and opens a page that starts the worker."""
    servers: list[ThreadingHTTPServer] = []
    context = chromium.new_context()

    def open_page(spoil: Callable[[Path], None] = lambda folder: None, book: str = BOOK) -> Page:
        stub_bundle(tmp_path / "engine", book=book)
        (tmp_path / "index.html").write_text(PAGE, "utf-8")
        spoil(tmp_path / "engine")
        server = ThreadingHTTPServer((HOST, 0), functools.partial(SiteHandler, directory=str(tmp_path)))
        threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
        servers.append(server)
        page = context.new_page()
        page.goto(address_of(server))
        return page

    yield open_page
    context.close()
    for server in servers:
        server.shutdown()
        server.server_close()


def heard(page: Page, until: str) -> list[dict[str, Any]]:
    """Wait until one message fits, then return all messages so far."""
    page.wait_for_function(f"window.heard.some((message) => {until})", timeout=PATIENCE)
    return page.evaluate("window.heard")


def stages(messages: list[dict[str, Any]]) -> list[str]:
    return [message["stage"] for message in messages if message.get("op") == "status"]


def test_a_question_sent_before_the_engine_is_ready_is_answered_when_it_is(opened: Callable[..., Page]) -> None:
    messages = heard(opened(), "message.id === 1")
    (reply,) = [message for message in messages if message.get("id") == 1]

    assert json.loads(reply["answer"]) == {"edition": EDITION, "told": {"early": 1}}
    assert stages(messages) == ["runtime", "facts", "ready"]
    assert [message["edition"] for message in messages if message.get("stage") == "ready"] == [EDITION]


def test_every_request_goes_to_the_page_s_own_server_and_the_console_stays_clean(opened: Callable[..., Page]) -> None:
    page = opened()
    asked: list[str] = []
    said: list[str] = []
    page.context.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.reload()
    heard(page, "message.id === 1")
    home = page.url

    assert len(asked) >= 5
    assert [url for url in asked if not url.startswith((home, "data:"))] == []
    assert said == []


def test_a_build_the_engine_refuses_gets_words_and_the_next_is_answered(opened: Callable[..., Page]) -> None:
    page = opened()
    heard(page, "message.id === 1")
    page.evaluate("""ask({ id: "bad", op: "answer", build: "{" }); ask({ id: "good", op: "answer", build: '{"slots": {}}' })""")
    messages = {message["id"]: message for message in heard(page, "message.id === 'good'") if "id" in message}

    assert messages["bad"]["error"].startswith("This could not be worked out: ")
    assert "Traceback" not in messages["bad"]["error"]
    assert json.loads(messages["good"]["answer"])["told"] == {}


def gone(pattern: str) -> Callable[[Path], None]:
    """Return a spoiler that deletes one file of the bundle."""

    def spoil(folder: Path) -> None:
        (found,) = folder.glob(pattern)
        found.unlink()

    return spoil


def damaged(pattern: str) -> Callable[[Path], None]:
    """Return a spoiler that cuts one file of the bundle to half."""

    def spoil(folder: Path) -> None:
        (found,) = folder.glob(pattern)
        data = found.read_bytes()
        found.write_bytes(data[: len(data) // 2])

    return spoil


COULD_NOT_START = "The part that works out answers could not start."
SPOILED = {
    "core gone": (gone("runtime-*/pyodide.asm.wasm"), COULD_NOT_START),
    "core damaged": (damaged("runtime-*/pyodide.asm.wasm"), COULD_NOT_START),
    "script gone": (gone("runtime-*/pyodide.asm.mjs"), COULD_NOT_START),
    "starter gone": (gone("runtime-*/pyodide.mjs"), "A file this page needs could not be fetched."),
    "library gone": (gone("runtime-*/python_stdlib.zip"), COULD_NOT_START),
    "library damaged": (damaged("runtime-*/python_stdlib.zip"), COULD_NOT_START),
    "engine gone": (gone("engine-*.zip"), "A file this page needs is not there."),
    "engine damaged": (damaged("engine-*.zip"), "The facts could not be read: No module named 'wizard'"),
    "facts gone": (gone("book-*.json"), "A file this page needs is not there."),
    "facts damaged": (damaged("book-*.json"), "The facts could not be read: "),
}


@pytest.mark.parametrize("how", SPOILED)
def test_a_spoiled_bundle_is_said_in_words_and_no_question_waits_for_ever(opened: Callable[..., Page], how: str) -> None:
    spoil, words = SPOILED[how]
    messages = heard(opened(spoil), "message.id === 1")
    (status,) = [message for message in messages if message.get("stage") == "failed"]
    (reply,) = [message for message in messages if message.get("id") == 1]

    assert status["text"].startswith(words)
    assert reply["error"] == status["text"]
    assert status["detail"]
    assert "ready" not in stages(messages)


def test_a_sum_whose_part_cannot_be_fetched_is_said_in_words_and_answers_still_come(opened: Callable[..., Page]) -> None:
    page = opened(gone("sums-*.zip"))
    page.evaluate("""ask({ id: "sum", op: "sum", name: "a", inputs: "{}" }); ask({ id: "next", op: "answer", build: '{"slots": {}}' })""")
    messages = {message["id"]: message for message in heard(page, "message.id === 'sum'") if "id" in message}
    messages |= {message["id"]: message for message in heard(page, "message.id === 'next'") if "id" in message}

    assert messages["sum"]["error"] == "A file this page needs is not there."
    assert json.loads(messages["next"]["answer"])["told"] == {}


def test_facts_of_another_schema_are_refused_in_the_browser_too(opened: Callable[..., Page]) -> None:
    messages = heard(opened(book=json.dumps({"schema": 2, "edition": EDITION})), "message.id === 1")
    (status,) = [message for message in messages if message.get("stage") == "failed"]

    assert status["text"] == "The facts could not be read: these facts are of a newer schema"
