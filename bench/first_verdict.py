"""Time from opening a page to the first verdict on it, in Chromium, beside the stock runtime, in one run.

Both variants are the same page, worker, engine and facts; only the standard library differs: the trimmed one,
or the whole one as its package ships it. Cold is a new browser profile; warm is each later visit in it.
"""

from __future__ import annotations

import functools
import json
import shutil
import statistics
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import ThreadingHTTPServer
from pathlib import Path
from typing import NamedTuple

from build_tools.bundle import PROJECT
from build_tools.runtime.node import RuntimeMissing, find_runtime
from build_tools.runtime.wire import CACHE, squeezed
from build_tools.serve import HOST, SiteHandler, address_of
from build_tools.setup.browser import FLAGS, find_browser

BUNDLE = Path("assets") / "engine"
VARIANTS = ("ours", "stock")
WARM_VISITS = 4
PAUSE = 0.5
PATIENCE = 60_000
PAGE = """<!doctype html>
<meta charset="utf-8">
<title>First verdict</title>
<link rel="icon" href="data:,">
<script type="module">
const build = %s;
const worker = new Worker(new URL("engine/worker.mjs", location.href), { type: "module" });
worker.onerror = (event) => { window.outcome = { error: event.message }; };
worker.onmessage = ({ data }) => {
  if (data.stage === "failed") window.outcome = { error: `${data.text} ${data.detail}` };
  if (data.id === 1) window.outcome = { milliseconds: performance.now(), answer: data.answer, error: data.error };
};
worker.postMessage({ id: 1, op: "answer", build });
</script>
"""


class Visit(NamedTuple):
    """One visit: milliseconds to the verdict, bytes of bodies sent, and the answer."""

    milliseconds: float
    wire: int
    answer: str


class CannotMeasure(Exception):
    """The measurement cannot be run; the message says what to do."""


class Counter:
    """Bytes of bodies that the server has sent since it was last asked."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.bytes = 0

    def add(self, number: int) -> None:
        """Count more bytes."""
        with self.lock:
            self.bytes += number

    def take(self) -> int:
        """Return the count and start again from nothing."""
        with self.lock:
            taken, self.bytes = self.bytes, 0
        return taken


class CountingHandler(SiteHandler):
    """The site's own server, which also counts what it sends."""

    def __init__(self, *args: object, counter: Counter, **kwargs: object) -> None:
        self.counter = counter
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]

    def copyfile(self, source: object, outputfile: object) -> None:
        """Send a body and count it."""
        body = source.read()  # type: ignore[attr-defined]
        self.counter.add(len(body))
        outputfile.write(body)  # type: ignore[attr-defined]


def run(site: Path, runs: int) -> str | None:
    """Print the table of cold and warm times and bytes; return None, or words when it cannot be measured."""
    try:
        with tempfile.TemporaryDirectory() as folder:
            build = lay_out(site / BUNDLE, Path(folder))
            print(f"First verdict, {runs} new profiles for each variant, then {WARM_VISITS} more visits in each; build: {build}")
            visits = measure(Path(folder), runs)
    except (CannotMeasure, RuntimeMissing) as failure:
        return f"first-verdict: {failure}"
    answers = {visit.answer for cold, warm in visits.values() for visit in (*cold, *warm)}
    if len(answers) != 1:
        return f"first-verdict: the variants gave {len(answers)} different answers to the same build."
    print(table(visits))
    return None


def lay_out(bundle: Path, folder: Path) -> str:
    """Copy the bundle once for each variant, with the page; return the id of the worked build that is asked."""
    if not (bundle / "manifest.json").is_file():
        raise CannotMeasure(f"{bundle} holds no bundle. Run: make build")
    runtime = find_runtime(PROJECT)
    manifest = json.loads((bundle / "manifest.json").read_text("utf-8"))
    name, build = asked_build(json.loads((bundle / manifest["beside"]).read_text("utf-8")))
    for variant in VARIANTS:
        shutil.copytree(bundle, folder / variant / "engine")
        page = PAGE % json.dumps(json.dumps(build, sort_keys=True)).replace("</", "<\\/")
        (folder / variant / "index.html").write_text(page, "utf-8")
    whole = (runtime.folder / "python_stdlib.zip").read_bytes()
    library = folder / "stock" / "engine" / manifest["runtime"] / "python_stdlib.zip"
    library.write_bytes(whole)
    for file in sorted(folder.rglob("*")):
        if file.suffix in (".mjs", ".wasm", ".zip", ".json") and file.name != "manifest.json":
            file.with_name(file.name + ".br").write_bytes(squeezed(file.read_bytes(), file.name, PROJECT / CACHE))
    return name


def asked_build(book: dict[str, dict[str, dict[str, object]]]) -> tuple[str, object]:
    """Return the first worked build of the facts, by id; raises CannotMeasure when there is none."""
    for name in sorted(book["builds"]):
        return name, book["builds"][name]["build"]
    raise CannotMeasure("the facts hold no worked build to ask.")


@contextmanager
def served(folder: Path, counter: Counter) -> Iterator[str]:
    """Serve the folder while the block runs; gives the address."""
    handler = functools.partial(CountingHandler, directory=str(folder), counter=counter)
    with ThreadingHTTPServer((HOST, 0), handler) as server:
        server.daemon_threads = True
        threading.Thread(target=server.serve_forever, daemon=True).start()
        try:
            yield address_of(server)
        finally:
            server.shutdown()


def measure(folder: Path, runs: int) -> dict[str, tuple[list[Visit], list[Visit]]]:
    """Return the cold and the warm visits of each variant, the variants taking turns to go first."""
    from playwright.sync_api import sync_playwright

    browser = find_browser()
    if browser is None:
        raise CannotMeasure("no Chromium was found. Run: make bench")
    visits: dict[str, tuple[list[Visit], list[Visit]]] = {variant: ([], []) for variant in VARIANTS}
    counter = Counter()
    with served(folder, counter) as address, sync_playwright() as driver:
        for number in range(runs):
            for variant in VARIANTS if number % 2 == 0 else VARIANTS[::-1]:
                with tempfile.TemporaryDirectory() as profile:
                    context = driver.chromium.launch_persistent_context(
                        profile, executable_path=str(browser), args=list(FLAGS)
                    )
                    made = [visit(context, f"{address}{variant}/", counter) for _ in range(1 + WARM_VISITS)]
                    context.close()
                visits[variant][0].append(made[0])
                visits[variant][1].extend(made[1:])
            print(f"  profile {number + 1} of {runs} done", flush=True)
    return visits


def visit(context: object, address: str, counter: Counter) -> Visit:
    """Open the page in a new tab, wait for the verdict, and return what it took; raises CannotMeasure in words."""
    page = context.new_page()  # type: ignore[attr-defined]
    counter.take()
    page.goto(address)
    page.wait_for_function("window.outcome", timeout=PATIENCE)
    outcome = page.evaluate("window.outcome")
    time.sleep(PAUSE)
    page.close()
    if outcome.get("error"):
        raise CannotMeasure(f"the page failed: {outcome['error']}")
    return Visit(outcome["milliseconds"], counter.take(), outcome["answer"])


def table(visits: dict[str, tuple[list[Visit], list[Visit]]]) -> str:
    """Return the table: medians with the least and the most, and bytes over the wire."""
    lines = [f"{'':22}{'cold, ms':>22}{'warm, ms':>22}{'cold, MB':>12}{'warm, MB':>12}"]
    for variant, title in zip(VARIANTS, ("trimmed, compiled", "stock runtime"), strict=True):
        cold, warm = visits[variant]
        times = "".join(f"{_spread([one.milliseconds for one in part]):>22}" for part in (cold, warm))
        sizes = "".join(f"{statistics.median(one.wire for one in part) / 1e6:12.2f}" for part in (cold, warm))
        lines.append(f"{title:22}{times}{sizes}")
    return "\n".join(lines)


def _spread(values: list[float]) -> str:
    return f"{statistics.median(values):.0f} ({min(values):.0f} to {max(values):.0f})"
