"""The layers are those that the site file names, in its order, or those given on the command line."""

from __future__ import annotations

from pathlib import Path

from build_tools.config import configured_layers, named_layers
from build_tools.problems import Problem, printed
from build_tools.site_paths import site_paths

SITE = """\
site_name: Any
docs_dir: build/docs  # made
site_dir: 'build/site'
markdown_extensions:
  - toc:
      slugify: !!python/name:some.thing
extra:
  other: value
  donorbook:
    facts:
      - facts/b
      - facts/a
nav:
  - Home: index.md
"""


def site(folder: Path, text: str = SITE) -> Path:
    for name in ("facts/a", "facts/b"):
        (folder / name).mkdir(parents=True)
    (folder / "mkdocs.yml").write_text(text, "utf-8")
    return folder


def test_the_site_file_names_the_layers_in_order(tmp_path: Path) -> None:
    layers = configured_layers(site(tmp_path))

    assert not isinstance(layers, Problem)
    assert [layer.shown for layer in layers] == ["facts/b", "facts/a"]
    assert layers[0].folder == tmp_path / "facts" / "b"


def test_a_layer_that_is_not_there_is_named_with_its_line(tmp_path: Path) -> None:
    found = configured_layers(site(tmp_path, SITE.replace("facts/a", "facts/c")))

    assert isinstance(found, Problem)
    assert printed(found).startswith("mkdocs.yml:12  There is no folder 'facts/c'.")


def test_a_site_file_without_layers_is_said_to_be_so(tmp_path: Path) -> None:
    found = configured_layers(site(tmp_path, "site_name: Any\n"))

    assert isinstance(found, Problem)
    assert found.what == "The site file does not say which facts are read."


def test_no_site_file_at_all_is_said_to_be_so(tmp_path: Path) -> None:
    found = configured_layers(tmp_path)

    assert isinstance(found, Problem)
    assert found.allowed == "Name the folders with --facts."


def test_folders_given_are_shown_as_they_were_given(tmp_path: Path) -> None:
    site(tmp_path)

    layers = named_layers([f"{tmp_path}/facts/a/"])

    assert not isinstance(layers, Problem)
    assert layers[0].shown == f"{tmp_path}/facts/a"


def test_the_folders_of_pages_and_site_come_from_the_site_file(tmp_path: Path) -> None:
    paths = site_paths(site(tmp_path))

    assert paths == (tmp_path / "build" / "docs", tmp_path / "build" / "site")
