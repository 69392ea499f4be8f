"""The browser's part of the site: runtime, trimmed library, engine, facts and worker, named by their content."""

from __future__ import annotations

import ast
import json
import re
import shutil
import time
from calendar import timegm
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from build_tools.runtime.node import Runtime, RuntimeFailed, find_runtime, run_node
from build_tools.runtime.wire import CACHE, digest, squeezed
from build_tools.shares import shares

PROJECT = Path(__file__).resolve().parent.parent
PACKING = Path(__file__).resolve().parent / "runtime"
WORKER = PROJECT / "wizard" / "web" / "worker.mjs"
WORKER_SLOT = "/* manifest */ null"
ENGINE_MODULES = (
    "bisect",
    "collections",
    "dataclasses",
    "enum",
    "functools",
    "heapq",
    "itertools",
    "json",
    "math",
    "operator",
    "re",
    "typing",
)
RUNTIME_BUDGET = 4_000_000
FACTS_BUDGET = 300_000
MANIFEST_SCHEMA = 1
FORMS = "wizard/sums/forms/"
Say = Callable[[str], None]


class BundledFile(NamedTuple):
    """One file of the bundle: its path under the bundle's folder, part, size, size over the wire, SHA-256."""

    path: str
    part: str
    bytes: int
    wire: int
    sha256: str


class Bundle(NamedTuple):
    """What was written: folder, edition of the facts, and the files in order of path."""

    folder: Path
    edition: str
    files: tuple[BundledFile, ...]

    def wire(self, part: str) -> int:
        """Return the bytes over the wire of one part: `runtime`, `facts`, `sums` or `worker`."""
        return sum(file.wire for file in self.files if file.part == part)


def source_date_epoch(edition: str) -> int:
    """Return midnight UTC of the day the edition names, in seconds; 1980-01-01 when it names none."""
    found = re.match(r"(\d{4})-(\d{2})-(\d{2})", edition)
    year, month, day = (int(part) for part in found.groups()) if found else (1980, 1, 1)
    return timegm((year, month, day, 0, 0, 0))


def engine_sources(project: Path = PROJECT) -> dict[str, str]:
    """Return the text of every Python file of the engine and the sums, by path from the project's root.

    Those under `FORMS` go into an archive of their own, which only the pages of the sums fetch.
    """
    folders = (project / "wizard" / "engine", project / "wizard" / "sums")
    files = [project / "wizard" / "__init__.py", *(file for folder in folders for file in folder.rglob("*.py"))]
    return {file.relative_to(project).as_posix(): file.read_text("utf-8") for file in sorted(files)}


def foreign_imports(sources: Mapping[str, str]) -> list[str]:
    """Return `path: module` for each import that the browser's library does not carry, in order; raises SyntaxError."""
    carried = {*ENGINE_MODULES, "__future__", "wizard"}
    found = set()
    for path, text in sources.items():
        for node in ast.walk(ast.parse(text, path)):
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and node.level == 0:
                names = [node.module or ""]
            else:
                continue
            found.update(f"{path}: {name}" for name in names if name.split(".")[0] not in carried)
    return sorted(found)


def library_archive(runtime: Runtime, cache: Path, say: Say = print) -> bytes:
    """Return the trimmed standard library as byte code; made once for each runtime and way of packing."""
    job = {"wanted": list(ENGINE_MODULES)}
    return _packed(runtime, job, "trimmed library", cache, say)


def engine_archive(runtime: Runtime, sources: Mapping[str, str], cache: Path, say: Say = print, what: str = "engine") -> bytes:
    """Return the engine, or another part of it, as byte code; made once for each state of its sources; raises RuntimeFailed in words."""
    try:
        foreign = foreign_imports(sources)
    except SyntaxError as error:
        raise RuntimeFailed(f"The engine does not compile: {error.filename}:{error.lineno}  {error.msg}") from error
    if foreign:
        raise RuntimeFailed(f"The engine imports what the browser's library does not carry: {', '.join(foreign)}")
    return _packed(runtime, {"sources": dict(sorted(sources.items()))}, what, cache, say)


def _packed(runtime: Runtime, job: Mapping[str, Any], what: str, cache: Path, say: Say) -> bytes:
    ways = "".join((PACKING / name).read_text("utf-8") for name in ("pack.mjs", "pack.py"))
    key = digest(json.dumps([runtime.version, ways, job], sort_keys=True).encode())
    held = cache / "packed" / f"{key}.zip"
    if not held.is_file():
        started = time.monotonic()
        held.parent.mkdir(parents=True, exist_ok=True)
        partial = held.with_suffix(".part")
        given = {"runtime": str(runtime.folder), "pack": str(PACKING / "pack.py"), "out": str(partial), **job}
        run_node(runtime, PACKING / "pack.mjs", given)
        partial.replace(held)
        say(f"  Compiled the {what} for the browser in {time.monotonic() - started:.1f} s.")
    return held.read_bytes()


def bundle(
    book_json: str,
    out_dir: Path,
    *,
    project: Path = PROJECT,
    sources: Mapping[str, str] | None = None,
    cache: Path | None = None,
    squeeze: bool = True,
    say: Say = print,
) -> Bundle:
    """Write everything the browser needs to answer into `out_dir`, replacing what was there, and return its sizes.

    The same facts, engine and runtime give the same bytes. With `squeeze`, a `.br` file lies beside each file and
    `wire` is its size; without, `wire` is the plain size.
    Raises RuntimeMissing when Node or the runtime is not there, RuntimeFailed when the engine does not compile.
    """
    runtime = find_runtime(project)
    store = cache or project / CACHE.parent
    core = {name: (runtime.folder / name).read_bytes() for name in ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")}
    core["python_stdlib.zip"] = library_archive(runtime, store, say)
    core["NOTICE.txt"] = _notice(runtime).encode()
    given = engine_sources(project) if sources is None else sources
    booted, forms = ({name: text for name, text in given.items() if name.startswith(FORMS) is of_forms} for of_forms in (False, True))
    engine, sums = engine_archive(runtime, booted, store, say), engine_archive(runtime, forms, store, say, "forms of the sums")
    needed, beside = (_text(share) for share in shares(json.loads(book_json)))
    together = digest("".join(f"{name} {digest(core[name])}\n" for name in sorted(core)).encode())
    folder = f"runtime-{together[:12]}"
    names = {"engine": f"engine-{digest(engine)[:12]}.zip", "book": f"book-{digest(needed)[:12]}.json", "beside": f"beside-{digest(beside)[:12]}.json", "sums": f"sums-{digest(sums)[:12]}.zip"}

    entries = [(f"{folder}/{name}", "runtime", core[name]) for name in sorted(core)]
    entries += [(names["beside"], "beside", beside), (names["book"], "facts", needed), (names["engine"], "facts", engine), (names["sums"], "sums", sums)]
    if out_dir.exists():
        shutil.rmtree(out_dir)
    files = [_write(out_dir, path, part, data, store, squeeze, say) for path, part, data in entries]
    edition = str(json.loads(book_json).get("edition", ""))
    manifest = _manifest(runtime, folder, names, edition, files)
    worker = worker_text({name: part for name, part in manifest.items() if name != "files"}).encode()
    files.append(_write(out_dir, "worker.mjs", "worker", worker, store, squeeze, say))
    (out_dir / "manifest.json").write_text(json.dumps(manifest, indent=1, sort_keys=True) + "\n", "utf-8")
    return Bundle(out_dir, edition, tuple(sorted(files)))


def _text(share: Mapping[str, Any]) -> bytes:
    return (json.dumps(share, sort_keys=True, separators=(",", ":"), ensure_ascii=False) + "\n").encode()


def worker_text(manifest: Mapping[str, Any]) -> str:
    """Return the worker with the manifest written into it, which saves the browser one request."""
    text = WORKER.read_text("utf-8")
    if text.count(WORKER_SLOT) != 1:
        raise ValueError(f"{WORKER.name} must hold `{WORKER_SLOT}` exactly once")
    return text.replace(WORKER_SLOT, json.dumps(manifest, sort_keys=True))


def _write(out: Path, path: str, part: str, data: bytes, store: Path, squeeze: bool, say: Say) -> BundledFile:
    target = out / path
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(data)
    wire = len(data)
    if squeeze:
        small = squeezed(data, target.name, store / CACHE.name, say)
        target.with_name(target.name + ".br").write_bytes(small)
        wire = len(small)
    return BundledFile(path, part, len(data), wire, digest(data))


def _manifest(runtime: Runtime, folder: str, names: Mapping[str, str], edition: str, files: list[BundledFile]) -> dict[str, Any]:
    lock = json.loads((runtime.folder / "pyodide-lock.json").read_text("utf-8"))
    return {
        "schema": MANIFEST_SCHEMA,
        "edition": edition,
        "runtime": folder,
        "runtime_version": runtime.version,
        **names,
        "lock": {"info": lock["info"], "packages": {}},
        "files": [file._asdict() for file in files],
    }


def _notice(runtime: Runtime) -> str:
    package = json.loads((runtime.folder / "package.json").read_text("utf-8"))
    return (
        f"The files in this folder are Pyodide {runtime.version} ({package['homepage']}), {package['license']},\n"
        "and, in python_stdlib.zip, part of the Python standard library, compiled, under the PSF licence.\n"
        "pyodide.mjs, pyodide.asm.mjs and pyodide.asm.wasm are unchanged.\n"
    )
