"""Builds a site into a folder of the test's own, from the project's facts and pages."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from build_tools.compile import book_text, compile_book
from build_tools.config import ROOT, configured_layers
from build_tools.index import index
from build_tools.pages import generate
from build_tools.records import gather
from wizard.engine import answer, load


@lru_cache(maxsize=1)
def real_book() -> dict[str, Any]:
    """Return the book of the facts that the site file names."""
    return json.loads(book_text(compile_book(index(gather(configured_layers())))))


@lru_cache(maxsize=1)
def real_answers() -> dict[str, dict[str, Any]]:
    """Return the engine's answer to each worked build."""
    engine_book = load(json.dumps(real_book()))
    return {name: json.loads(answer(engine_book, json.dumps(record["build"]))) for name, record in sorted(real_book()["builds"].items())}


def written_pages(folder: Path, book: Mapping[str, Any] | None = None, answers: Mapping[str, Any] | None = None) -> Path:
    """Write the pages into folder/docs and return it."""
    docs = folder / "docs"
    generate(dict(book or real_book()), real_answers() if answers is None else answers, docs)
    return docs


def run_builder(folder: Path, hash_seed: str = "0") -> subprocess.CompletedProcess[str]:
    """Build folder/docs into folder/site with the project's own site file, strictly."""
    site_file = folder / "mkdocs.yml"
    site_file.write_text(
        f"INHERIT: {ROOT / 'mkdocs.yml'}\ndocs_dir: {folder / 'docs'}\nsite_dir: {folder / 'site'}\n"
        f"theme:\n  custom_dir: {ROOT / 'wizard' / 'web' / 'theme'}\n", "utf-8")
    ways = {**os.environ, "SOURCE_DATE_EPOCH": "1700000000", "NO_MKDOCS_2_WARNING": "1", "PYTHONHASHSEED": hash_seed}
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--clean", "--config-file", str(site_file)]
    return subprocess.run(command, cwd=folder, env=ways, capture_output=True, text=True, check=False)


def built_site(folder: Path) -> Path:
    """Build the real site into the folder and return it; raises AssertionError with what the builder said."""
    folder.mkdir(parents=True, exist_ok=True)
    written_pages(folder)
    done = run_builder(folder)
    if done.returncode:
        raise AssertionError(done.stdout + done.stderr)
    return folder / "site"


def copied(site: Path, folder: Path) -> Path:
    """Copy the pages that a site was built from into another folder, to be spoilt there."""
    shutil.copytree(site.parent / "docs", folder / "docs")
    return folder / "docs"
