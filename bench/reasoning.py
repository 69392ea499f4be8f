"""How long an answer takes, in CPython and in the browser's Python, on a synthetic book and on the real one.

One answer after one change, with at most three slots open; then everything open; then the growth with the number of
families; then the viable set of one open slot against clingo (native) on the same question. Everything in one run.
"""

from __future__ import annotations

import json
import random
import statistics
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from bench.synthetic import make_book
from build_tools.bundle import bundle
from build_tools.serve import address_of, open_server
from build_tools.setup.browser import FLAGS, find_browser
from wizard.engine import answer, load

PAIRS = 200
SEED = 3
GROWTH = (10, 100, 1000)
IN_PAGE = """async ([worker_url, builds]) => {
  const worker = new Worker(worker_url, { type: "module" });
  const waiting = new Map();
  const ready = new Promise((resolve, reject) => {
    worker.onerror = (event) => reject(new Error(event.message));
    worker.onmessage = ({ data }) => {
      if (data.stage === "ready") resolve();
      if (data.stage === "failed") reject(new Error(data.text + data.detail));
      if (waiting.has(data.id)) { waiting.get(data.id)(data); waiting.delete(data.id); }
    };
  });
  await ready;
  const times = [];
  for (const [id, build] of builds.entries()) {
    const started = performance.now();
    const data = await new Promise((resolve) => { waiting.set(id, resolve); worker.postMessage({ id, op: "answer", build }); });
    if (data.error) throw new Error(data.error);
    times.push(performance.now() - started);
  }
  return times;
}"""


class Set(NamedTuple):
    """Builds to answer in order: which of them are timed, and the builds with everything open or unknown."""

    pairs: list[str]
    timed: list[int]
    everything: list[str]


def one_change(book: dict[str, Any], told: dict[str, Any], pairs: int = PAIRS) -> tuple[list[str], list[int]]:
    """Builds in pairs that differ in one part, at most three slots open; the second of each pair is timed."""
    rng = random.Random(SEED)
    by_kind: dict[str, list[str]] = {}
    for name, record in sorted(book["families"].items()):
        by_kind.setdefault(record["kind"], []).append(name)
    slots = [s for s in sorted(told) if by_kind.get(book["slots"][s]["kind"])]
    builds, timed = [], []
    for _ in range(pairs):
        now = dict(told)
        for slot in rng.sample(slots, min(3, len(slots))):
            now[slot] = "open"
        builds.append(json.dumps({"slots": now}))
        slot = rng.choice(slots)
        now = now | {slot: {"family": rng.choice(by_kind[book["slots"][slot]["kind"]])}}
        timed.append(len(builds))
        builds.append(json.dumps({"slots": now}))
    return builds, timed


def worked_changes(book: dict[str, Any], builds: list[dict[str, Any]], pairs: int = PAIRS) -> tuple[list[str], list[int]]:
    """The worked builds of the book in pairs that differ in one part, at most three slots open; the second is timed."""
    rng = random.Random(SEED)
    by_kind: dict[str, list[str]] = {}
    for name, record in sorted(book["families"].items()):
        by_kind.setdefault(record["kind"], []).append(name)
    out, timed = [], []
    for build in (rng.choice(builds) for _ in range(10 * pairs)):
        slots = {s: v for s, v in build["slots"].items() if by_kind.get(book["slots"][s]["kind"])}
        if len(timed) == pairs or len(slots) < 2:
            continue
        changed, *others = rng.sample(sorted(slots), len(slots))
        already = sum(v == "open" for v in build["slots"].values())
        before = build | {"slots": build["slots"] | dict.fromkeys(others[:max(0, rng.randint(0, 3) - already)], "open")}
        after = before | {"slots": before["slots"] | {changed: {"family": rng.choice(by_kind[book["slots"][changed]["kind"]])}}}
        timed.append(len(out) + 1)
        out += [json.dumps(before), json.dumps(after)]
    return out, timed


def questions(book: dict[str, Any]) -> Set:
    """The builds for one book; what is told is what the engine itself picks with every listed kind open."""
    listed = {r["kind"] for r in book["families"].values()}
    buyable = [s for s, r in book["slots"].items() if r["kind"] in listed
               and book["kinds"][r["kind"]]["changeable"] != "never"]
    everything = json.dumps({"slots": {s: "open" for s in buyable}})
    picked = json.loads(answer(load(json.dumps(book)), everything))["choices"]
    told: dict[str, Any] = {c["slot"]: {"family": c["pick"]["family"]} for c in picked if c["pick"] and c["pick"]["family"]}
    for slot in buyable:        # no choice is good for all: any listed part will do to ask about
        kind = book["slots"][slot]["kind"]
        first = min(f for f, r in book["families"].items() if r["kind"] == kind)
        told.setdefault(slot, {"family": first})
    pairs, timed = one_change(book, told)
    unknown = json.dumps({"slots": {s: "not_sure" for s in buyable}})
    return Set(pairs, timed, [everything, unknown])


def real_questions(book: dict[str, Any], builds: list[dict[str, Any]]) -> Set:
    """The same for the real book, whose worked builds are what people ask; nobody tells every slot there is."""
    listed = {r["kind"] for r in book["families"].values()}
    buyable = [s for s, r in book["slots"].items() if r["kind"] in listed and book["kinds"][r["kind"]]["changeable"] != "never"]
    pairs, timed = worked_changes(book, builds)
    return Set(pairs, timed, [json.dumps({"slots": dict.fromkeys(buyable, state)}) for state in ("open", "not_sure")])


def in_cpython(book_json: str, builds: list[str]) -> list[float]:
    """Milliseconds for each build, in order, in this Python."""
    book, out = load(book_json), []
    for build in builds:
        started = time.perf_counter()
        answer(book, build)
        out.append(1000 * (time.perf_counter() - started))
    return out


def in_browser(book_json: str, builds: list[str]) -> list[float]:
    """Milliseconds for each build, in order, from message to reply, in Chromium with the bundled runtime."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "index.html").write_text('<!doctype html><title>Bench</title><link rel="icon" href="data:,">', "utf-8")
        bundle(book_json, root / "engine", squeeze=False, say=lambda text: None)
        with open_server(root) as server, sync_playwright() as play:
            threading.Thread(target=server.serve_forever, daemon=True).start()
            browser = play.chromium.launch(executable_path=find_browser(), args=list(FLAGS))
            page = browser.new_page()
            page.goto(address_of(server))
            times = page.evaluate(IN_PAGE, ["./engine/worker.mjs", builds])
            browser.close()
            server.shutdown()
    return times


def viable_by_clingo(book: dict[str, Any], told: dict[str, Any], slot: str) -> tuple[float, set[str]]:
    """Milliseconds and the viable families of one open slot by clingo, grounding and solving counted.

    The synthetic rules have no ties between parts beyond their cases, so first-case rules become integrity
    constraints on the attributes of what was picked, and unknown attributes are held for every value by forbidding
    any value that fails.
    """
    import clingo

    lines = []
    for s, said in told.items():
        options = [said["family"]] if s != slot else [f for f, r in book["families"].items()
                                                     if r["kind"] == book["slots"][s]["kind"]]
        lines.append(f"1 {{ pick({s},({';'.join(options)})) }} 1.")
        for f in options:
            for a, claim in book["families"][f]["attributes"].items():
                lines += [f"may({s},{a},{v}) :- pick({s},{f})." for v in claim["is"]]
    for rule in book["rules"].values():
        first = rule["cases"][0]
        (row,) = first["when"]
        body = [f"may({t['on'].split('.')[0]},{t['on'].split('.')[1]},({';'.join(t['in'])}))" for t in row]
        lines.append(f":- {', '.join(body)}.")
    started = time.perf_counter()
    control = clingo.Control(["0", "--warn=none", "-e", "brave"])
    control.add("base", [], "\n".join(lines) + "\n#show pick/2.")
    control.ground([("base", [])])
    last: set[str] = set()
    with control.solve(yield_=True) as handle:
        for model in handle:
            last = {str(x.arguments[1]) for x in model.symbols(shown=True) if str(x.arguments[0]) == slot}
    return 1000 * (time.perf_counter() - started), last


def spread(times: list[float]) -> str:
    """Median, 99th percentile and largest, in ms."""
    ordered = sorted(times)
    return (f"median {statistics.median(ordered):7.1f}   p99 {ordered[min(len(ordered) - 1, int(len(ordered) * .99))]:7.1f}"
            f"   max {ordered[-1]:7.1f} ms")


def measure(title: str, book: dict[str, Any], run: Callable[[str, list[str]], list[float]], asked: Set | None = None) -> None:
    """Print the times of one book in one runtime, all together and by the verdict that was reached."""
    asked = questions(book) if asked is None else asked
    text = json.dumps(book)
    times = run(text, asked.everything + asked.pairs)
    found = {i: times[len(asked.everything) + i] for i in asked.timed}
    loaded = load(text)
    verdicts = {i: json.loads(answer(loaded, asked.pairs[i]))["verdict"] or "contradiction" for i in asked.timed}
    print(f"{title}\n  one change, up to 3 open   {spread(list(found.values()))}")
    for verdict in sorted(set(verdicts.values())):
        some = [found[i] for i in asked.timed if verdicts[i] == verdict]
        print(f"    {len(some):3d} {verdict:20}   {spread(some)}")
    print(f"  everything open, first {times[0]:8.1f} ms   everything not sure {times[1]:8.1f} ms", flush=True)


def run(site: Path, runs: int) -> str | None:
    """Print all measurements; return None, or a sentence when the browser cannot be run."""
    books = {"synthetic, 150 rules, 40 slots, 15 families a kind": make_book()}
    for name, book in books.items():
        measure(f"{name}, CPython", book, in_cpython)
        measure(f"{name}, Chromium", book, in_browser)
    engine = site / "assets" / "engine"
    if (engine / "manifest.json").is_file():
        manifest = json.loads((engine / "manifest.json").read_text("utf-8"))
        real, beside = (json.loads((engine / manifest[part]).read_text("utf-8")) for part in ("book", "beside"))
        asked = real_questions(real, [record["build"] for _, record in sorted(beside["builds"].items())])
        measure("the real book, changes to its worked builds, CPython", real, in_cpython, asked)
        measure("the real book, changes to its worked builds, Chromium", real, in_browser, asked)
    for families in GROWTH:
        book = make_book(families=families)
        measure(f"growth: {families} families a kind, CPython", book, in_cpython)
    compare_with_clingo(make_book())
    return None


def compare_with_clingo(book: dict[str, Any]) -> None:
    """Print the time of the same viable-set questions by this engine and by clingo, and whether they agree."""
    asked = questions(book)
    told = {s: v for s, v in json.loads(asked.pairs[0])["slots"].items() if isinstance(v, dict)}
    picked = json.loads(answer(load(json.dumps(book)), asked.everything[0]))["choices"]
    told = {c["slot"]: {"family": c["pick"]["family"]} for c in picked}
    loaded, ours, theirs, same = load(json.dumps(book)), [], [], 0
    for slot in sorted(told)[:20]:
        build = json.dumps({"slots": told | {slot: "open"}})
        started = time.perf_counter()
        got = json.loads(answer(loaded, build))
        ours.append(1000 * (time.perf_counter() - started))
        spent, viable = viable_by_clingo(book, told, slot)
        theirs.append(spent)
        mine = {p["family"] for c in got["choices"] if c["slot"] == slot for p in c["viable"]}
        same += mine <= viable
    print(f"viable set of one open slot, 20 slots: whole answer {spread(ours)}\n"
          f"  clingo, viable set alone             {spread(theirs)}; ours within clingo's in {same} of 20", flush=True)
