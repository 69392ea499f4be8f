"""Makes the site: book, answers, pages, MkDocs, and the part that runs in the browser, in that order."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from build_tools.bundle import bundle, source_date_epoch
from build_tools.compile import Book, book_text, compile_book
from build_tools.config import ROOT, SITE_FILE
from build_tools.engine import AskText, NoEngine, NotAnswered, engine_for
from build_tools.index import Index
from build_tools.pages import generate
from build_tools.runtime.node import RuntimeFailed, RuntimeMissing
from build_tools.site_paths import site_paths

BROWSER_PART = Path("assets") / "engine"
Say = Callable[[str], None]


class BuildFailed(Exception):
    """A step of the build failed; the message says which, and what it printed."""


@contextmanager
def step(what: str, say: Say) -> Iterator[None]:
    """Say what is being done, and its time when it took more than half a second."""
    say(f"{what} ...")
    started = time.monotonic()
    yield
    spent = time.monotonic() - started
    if spent > 0.5:
        say(f"  took {spent:.1f} s")


def build_site(facts: Index, say: Say, root: Path = ROOT) -> Path:
    """Build the site of sound facts and return its folder; raises `BuildFailed` with the reason.

    The same facts, code and locked versions give the same bytes.
    """
    paths = site_paths(root)
    with step("Compiling the book", say):
        book = compile_book(facts)
        text = book_text(book)
    with step(f"Answering {len(book['builds'])} worked builds", say):
        answers = worked_answers(book, text)
    with step("Writing the pages", say):
        generate(json.loads(text), answers, paths.pages, root)
    with step("Building the site", say):
        _mkdocs(root, book["edition"])
    with step("Packing the engine for the browser", say):
        try:
            bundle(book_text(book), paths.site / BROWSER_PART, project=root, say=say)
        except (RuntimeMissing, RuntimeFailed) as error:
            raise BuildFailed(f"The browser part was not packed: {error}") from None
    say(f"The site is in {paths.site.relative_to(root)}, facts edition {book['edition']}.")
    return paths.site


def worked_answers(book: Book, text: str) -> dict[str, dict]:
    """Return the answer of each worked build by its id; raises `BuildFailed` when the engine cannot give one."""
    if not book["builds"]:
        return {}
    try:
        ask: AskText = engine_for(text)
        return {name: json.loads(ask(record["build"])) for name, record in sorted(book["builds"].items())}
    except (NoEngine, NotAnswered) as error:
        raise BuildFailed(str(error)) from None


def _mkdocs(root: Path, edition: str) -> None:
    """Run MkDocs strictly on the generated pages; its dates come from the edition, never from the clock."""
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--clean", "--config-file", SITE_FILE]
    ways = {
        **os.environ,
        "SOURCE_DATE_EPOCH": str(source_date_epoch(edition)),
        "NO_MKDOCS_2_WARNING": "1",
        "PYTHONHASHSEED": "0",
    }
    done = subprocess.run(command, cwd=root, env=ways, capture_output=True, text=True, check=False)
    if done.returncode:
        printed = "\n".join(line for line in (done.stdout + done.stderr).splitlines() if not line.startswith("INFO"))
        raise BuildFailed(f"MkDocs refused the pages:\n{printed}")
