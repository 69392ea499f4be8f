"""The build refuses what is wrong with a page, and gives the same bytes twice."""

from __future__ import annotations

import hashlib
import re
import subprocess
from pathlib import Path

import pytest

from build_tools.config import ROOT
from tests.site.building import copied, run_builder, written_pages


PLANTED = {
    "[gone](rules/index.md#there-is-no-such-anchor)": "there-is-no-such-anchor",
    "[gone](rules/no-such-rule.md)": "no-such-rule.md",
    "[gone](#not-on-this-page)": "not-on-this-page",
    "[gone](/rules/)": "absolute link '/rules/'",
    "[gone](rules)": "unrecognized relative link 'rules'",
}


def test_a_planted_dead_anchor_alone_fails_the_build(site: Path, tmp_path: Path) -> None:
    plant(site, tmp_path, next(iter(PLANTED)))

    done = run_builder(tmp_path)

    assert done.returncode != 0
    assert warnings(done) == 1
    assert "there-is-no-such-anchor" in done.stdout + done.stderr


def test_every_sort_of_dead_link_and_a_page_nobody_reaches_is_named(site: Path, tmp_path: Path) -> None:
    docs = plant(site, tmp_path, "\n\n".join(PLANTED))
    (docs / "stray.md").write_text("# Stray\n", "utf-8")

    done = run_builder(tmp_path)

    assert done.returncode != 0
    assert warnings(done) == len(PLANTED) + 1
    assert [said for said in [*PLANTED.values(), "stray.md"] if said not in done.stdout + done.stderr] == []


def plant(site: Path, folder: Path, text: str) -> Path:
    """Copy the real pages and add a text to the home page; return the copy."""
    docs = copied(site, folder)
    page = docs / "index.md"
    page.write_text(f"{page.read_text('utf-8')}\n{text}\n", "utf-8")
    return docs


def warnings(done: subprocess.CompletedProcess[str]) -> int:
    """Return how many things the builder warned of."""
    return (done.stdout + done.stderr).count("WARNING -")


def test_a_template_cannot_pass_over_a_value_that_is_not_there() -> None:
    from jinja2 import UndefinedError

    from build_tools.pages.render import Renderer

    with pytest.raises(UndefinedError):
        Renderer("2026-01-10.00000000").fragment("sum.md.j2", {})


def test_a_site_built_twice_is_the_same_byte_for_byte(site: Path, tmp_path: Path) -> None:
    written_pages(tmp_path)
    done = run_builder(tmp_path, hash_seed="4711")

    assert done.returncode == 0, done.stderr
    assert digests(tmp_path / "docs") == digests(site.parent / "docs")
    assert digests(tmp_path / "site") == digests(site)


def test_the_site_file_asks_for_every_check_of_links() -> None:
    text = (ROOT / "mkdocs.yml").read_text("utf-8")
    levels = dict(re.findall(r"^ {4}(omitted_files|not_found|absolute_links|unrecognized_links|anchors): (\w+)$", text, re.MULTILINE))

    assert set(levels) == {"omitted_files", "not_found", "absolute_links", "unrecognized_links", "anchors"}
    assert set(levels.values()) == {"warn"}
    assert re.search(r"^strict: true$", text, re.MULTILINE)
    assert re.search(r"^ {2}font: false$", text, re.MULTILINE)


def digests(folder: Path) -> dict[str, str]:
    """Return the SHA-256 of every file by its path."""
    return {file.relative_to(folder).as_posix(): hashlib.sha256(file.read_bytes()).hexdigest()
            for file in sorted(folder.rglob("*")) if file.is_file()}
