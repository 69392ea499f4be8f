"""The browser's part of the site: what is in it, how much it weighs, and that it is made the same way twice."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path

import brotli
import pytest

from build_tools import bundle as bundling
from build_tools.bundle import ENGINE_MODULES, RUNTIME_BUDGET, bundle, foreign_imports, source_date_epoch, worker_text
from build_tools.runtime.node import RuntimeFailed, RuntimeMissing, find_runtime, run_node
from build_tools.runtime.wire import digest, squeezed
from tests.runtime.stub import BOOK, EDITION, ENGINE, SOURCES, stub_bundle

ANSWERS = Path(__file__).resolve().parent / "runtime" / "answers.mjs"


def contents(folder: Path) -> dict[str, str]:
    return {file.relative_to(folder).as_posix(): digest(file.read_bytes()) for file in sorted(folder.rglob("*")) if file.is_file()}


def asked(folder: Path, *messages: dict[str, object]) -> list[dict[str, object]]:
    """Return the replies of the bundle under Node."""
    return run_node(find_runtime(bundling.PROJECT), ANSWERS, {"bundle": str(folder), "messages": list(messages)})


def test_two_builds_with_separate_caches_are_the_same_byte_for_byte(tmp_path: Path) -> None:
    for name in ("one", "two"):
        bundle(BOOK, tmp_path / name, sources=SOURCES, cache=tmp_path / f"cache-{name}", squeeze=False, say=lambda text: None)

    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_the_runtime_keeps_to_its_budget_over_the_wire(tmp_path: Path) -> None:
    made = stub_bundle(tmp_path / "out", squeeze=True)

    assert 2_000_000 < made.wire("runtime") <= RUNTIME_BUDGET


def test_every_squeezed_file_opens_to_the_file_beside_it(tmp_path: Path) -> None:
    made = stub_bundle(tmp_path / "out", squeeze=True)
    pairs = [(tmp_path / "out" / file.path, tmp_path / "out" / f"{file.path}.br", file) for file in made.files]

    assert len(pairs) >= 7
    for plain, small, file in pairs:
        assert brotli.decompress(small.read_bytes()) == plain.read_bytes()
        assert (file.bytes, file.wire) == (plain.stat().st_size, small.stat().st_size)


def test_archives_hold_sorted_stored_undated_byte_code_only(tmp_path: Path) -> None:
    made = stub_bundle(tmp_path / "out")
    archives = [tmp_path / "out" / file.path for file in made.files if file.path.endswith(".zip")]

    assert len(archives) == 3
    for archive in archives:
        with zipfile.ZipFile(archive) as opened:
            entries = opened.infolist()
        assert [entry.filename for entry in entries] == sorted(entry.filename for entry in entries)
        assert {entry.compress_type for entry in entries} == {zipfile.ZIP_STORED}
        assert {entry.date_time for entry in entries} == {(1980, 1, 1, 0, 0, 0)}
        assert all(entry.filename.endswith(".pyc") for entry in entries)


def test_the_trimmed_library_carries_every_module_the_engine_may_import(tmp_path: Path) -> None:
    every = "".join(f"import {name}\n" for name in ENGINE_MODULES)
    stub_bundle(tmp_path / "out", sources={**SOURCES, "wizard/engine/__init__.py": ENGINE + every})
    (reply,) = asked(tmp_path / "out", {"id": 1, "op": "answer", "build": '{"slots": {}}'})

    assert reply == {"id": 1, "answer": json.dumps({"edition": EDITION, "told": {}}, sort_keys=True)}


def test_asserts_of_the_engine_are_kept_and_a_failure_is_said_without_a_traceback(tmp_path: Path) -> None:
    stub_bundle(tmp_path / "out")
    replies = asked(
        tmp_path / "out",
        {"id": "a", "op": "answer", "build": '{"slots": "wrong"}'},
        {"id": "b", "op": "answer", "build": "{}"},
        {"id": "c", "op": "answer", "build": "{"},
        {"id": "d", "op": "answer"},
        {"id": "e", "op": "sing", "build": "{}"},
    )

    assert replies[0] == {"id": "a", "error": "This could not be worked out: asserts are kept"}
    assert replies[1] == {"id": "b", "error": "This could not be worked out: a build needs slots"}
    assert replies[2]["id"] == "c" and str(replies[2]["error"]).startswith("This could not be worked out: Expecting")
    assert replies[3] == {"id": "d", "error": "The engine was asked without a text to work on."}
    assert replies[4] == {"id": "e", "error": "The engine was asked for something it does not do: sing."}


def test_letters_beyond_ascii_come_through_the_bridge_unchanged(tmp_path: Path) -> None:
    stub_bundle(tmp_path / "out")
    odd = "Ω é ≤ 漢 \U0001f527"
    (reply,) = asked(tmp_path / "out", {"id": 1, "op": "answer", "build": json.dumps({"slots": odd}, ensure_ascii=False)})

    assert json.loads(str(reply["answer"]))["told"] == odd


def test_a_sum_is_worked_out_from_an_archive_of_its_own_that_nothing_else_fetches(tmp_path: Path) -> None:
    made = stub_bundle(tmp_path / "out")
    engine, sums = ({entry.filename for entry in zipfile.ZipFile(tmp_path / "out" / file.path).infolist()}
                    for file in made.files if file.path.startswith(("engine-", "sums-")))
    question, ask = {"id": 1, "op": "answer", "build": '{"slots": {}}'}, {"id": 2, "op": "sum", "name": "a", "inputs": "{}"}
    both = asked(tmp_path / "out", question, ask, {"id": 3, "op": "sums_soon"})
    next((tmp_path / "out").glob("sums-*.zip")).unlink()
    without = asked(tmp_path / "out", question, ask)

    assert [name for name in engine if "forms" in name] == [name for name in sums if "forms" not in name] == []
    assert both[1:] == [{"id": 2, "sum": "a0", "plot": "null"}, {"id": 3}]
    assert without[0] == both[0]
    assert "sum" not in without[1] and without[1]["error"]


def test_addresses_are_read_and_written_by_the_engine(tmp_path: Path) -> None:
    stub_bundle(tmp_path / "out")
    read, written = asked(
        tmp_path / "out",
        {"id": 1, "op": "from_address", "address": "x"},
        {"id": 2, "op": "to_address", "build": '{"slots": {"a": "y"}}'},
    )

    assert json.loads(str(read["build"])) == {"slots": {"a": "x"}}
    assert json.loads(str(read["not_used"])) == [{"name": "b", "value": "c", "why": "There is no such part."}]
    assert written == {"id": 2, "address": "a=y"}


def test_facts_of_an_unknown_schema_are_refused_in_words(tmp_path: Path) -> None:
    stub_bundle(tmp_path / "out", book=json.dumps({"schema": 99, "edition": EDITION}))

    with pytest.raises(RuntimeFailed, match="The facts could not be read: these facts are of a newer schema"):
        asked(tmp_path / "out", {"id": 1, "op": "answer", "build": "{}"})


def test_new_facts_change_the_name_of_the_facts_alone(tmp_path: Path) -> None:
    old = stub_bundle(tmp_path / "old")
    new = stub_bundle(tmp_path / "new", book=BOOK.replace(EDITION, "2026-11-26.00000000"))
    gone = {file.path for file in old.files} - {file.path for file in new.files}

    assert {name.split("-")[0] for name in gone} == {"book"}


def test_a_build_leaves_nothing_of_the_one_before(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "book-old.json").write_text("{}")
    stub_bundle(tmp_path / "out")

    assert not (tmp_path / "out" / "book-old.json").exists()


def test_the_manifest_names_files_that_are_there_with_their_digests(tmp_path: Path) -> None:
    stub_bundle(tmp_path / "out")
    manifest = json.loads((tmp_path / "out" / "manifest.json").read_text())

    assert manifest["edition"] == EDITION
    assert len(manifest["files"]) == 9
    for file in manifest["files"]:
        assert digest((tmp_path / "out" / file["path"]).read_bytes()) == file["sha256"]


def test_an_import_the_browser_does_not_carry_is_refused_and_named(tmp_path: Path) -> None:
    bad = {**SOURCES, "wizard/engine/clock.py": "import time\nfrom datetime import date\nfrom . import address\n"}

    assert foreign_imports(bad) == ["wizard/engine/clock.py: datetime", "wizard/engine/clock.py: time"]
    with pytest.raises(RuntimeFailed, match="wizard/engine/clock.py: datetime, wizard/engine/clock.py: time"):
        stub_bundle(tmp_path / "out", sources=bad)


def test_the_real_engine_imports_only_what_the_browser_carries() -> None:
    sources = bundling.engine_sources()

    assert "wizard/engine/__init__.py" in sources
    assert foreign_imports(sources) == []


def test_a_source_that_does_not_compile_is_named(tmp_path: Path) -> None:
    with pytest.raises(RuntimeFailed, match="does not compile: wizard/engine/address.py:1  invalid syntax"):
        stub_bundle(tmp_path / "out", sources={**SOURCES, "wizard/engine/address.py": "def (:\n"})


def test_a_damaged_cache_costs_time_and_not_truth(tmp_path: Path) -> None:
    data = b"the same words, the same words, the same words"
    first = squeezed(data, "words", tmp_path)
    (held,) = tmp_path.iterdir()
    held.write_bytes(b"damaged")

    assert squeezed(data, "words", tmp_path) == first
    assert brotli.decompress(first) == data


def test_a_missing_runtime_is_said_with_the_command_that_brings_it(tmp_path: Path) -> None:
    with pytest.raises(RuntimeMissing, match="not installed. Run: make environment"):
        find_runtime(tmp_path)


def test_the_worker_takes_the_manifest_once_and_names_no_host() -> None:
    text = worker_text({"edition": EDITION})

    assert f'const manifest = {{"edition": "{EDITION}"}};' in text
    assert "http" not in text


@pytest.mark.parametrize(
    ("edition", "seconds"),
    [("2026-11-25.ab12cd34", 1795564800), ("1980-01-01.x", 315532800), ("undated", 315532800)],
)
def test_the_date_of_the_site_is_the_day_of_its_facts(edition: str, seconds: int) -> None:
    # Seconds from GNU date: date -u -d 2026-11-25 +%s
    assert source_date_epoch(edition) == seconds
