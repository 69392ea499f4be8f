"""The site is built from facts to bundle in one go, and twice the same to the last byte."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from build_tools.build import BuildFailed, build_site
from build_tools.index import Index, index
from build_tools.records import Layer, gather
from tests.facts.examples import ROOT, lay_out

LINKED = ("build_tools", "wizard", "kb", "node_modules", "package.json", "facts")


def project(folder: Path) -> Path:
    """Return a project that shares everything with this one but the site file and what is made."""
    folder.mkdir()
    for name in LINKED:
        (folder / name).symlink_to(ROOT / name)
    (ROOT / ".cache").mkdir(exist_ok=True)
    (folder / ".cache").symlink_to(ROOT / ".cache")  # what is squeezed once need not be squeezed again
    (folder / "mkdocs.yml").write_bytes((ROOT / "mkdocs.yml").read_bytes())
    return folder


def lamps(folder: Path) -> Index:
    return index(gather([Layer(lay_out(folder), "lamps")]))


def digests(site: Path) -> dict[str, str]:
    return {
        path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


def test_a_site_built_twice_is_the_same_to_the_last_byte(tmp_path: Path) -> None:
    said: list[str] = []
    first = digests(build_site(lamps(tmp_path / "lamps"), said.append, project(tmp_path / "one")))
    second = digests(build_site(lamps(tmp_path / "again"), said.append, project(tmp_path / "two")))

    assert first == second
    assert "index.html" in first
    assert any(name.startswith("assets/engine/book-") for name in first)
    assert said.count("Compiling the book ...") == 2


def test_a_planted_dead_link_stops_the_build(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root = project(tmp_path / "one")
    from build_tools import build

    def generate(*given: object) -> None:
        pages_generate(*given)
        page = root / "build" / "docs" / "index.md"
        page.write_text(page.read_text("utf-8") + "\n[nowhere](rules/index.md#no-such-place)\n", "utf-8")

    pages_generate = build.generate
    monkeypatch.setattr(build, "generate", generate)

    with pytest.raises(BuildFailed, match="no-such-place"):
        build_site(lamps(tmp_path / "lamps"), lambda text: None, root)
