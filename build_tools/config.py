"""Which layers of facts are read: those the site names, or those given on the command line."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from build_tools.load import Mapping, Scalar, load
from build_tools.load import Sequence as YamlSequence
from build_tools.problems import Problem
from build_tools.records import Layer

ROOT = Path(__file__).resolve().parent.parent
SITE_FILE = "mkdocs.yml"


def named_layers(folders: Sequence[str]) -> list[Layer] | Problem:
    """Return the layers of the folders given, or the problem when one is not there."""
    layers = []
    for name in folders:
        if not Path(name).is_dir():
            return Problem(
                name, 0, "There is no such folder of facts.", "no-layer-file", "Name a folder that holds a layer.yaml."
            )
        layers.append(Layer(Path(name), name.rstrip("/")))
    return layers


def configured_layers(root: Path = ROOT) -> list[Layer] | Problem:
    """Return the layers that `extra: donorbook: facts:` of the site file names, or the problem with it."""
    path = root / SITE_FILE
    if not path.is_file():
        return Problem(
            SITE_FILE,
            0,
            "There is no site file to say which facts are read.",
            "no-layer-file",
            "Name the folders with --facts.",
        )
    node = _configured(path)
    if node is None or not all(isinstance(item, Scalar) for item in node.items) or not node.items:
        return Problem(
            SITE_FILE,
            1,
            "The site file does not say which facts are read.",
            "no-layer-file",
            "Write extra: donorbook: facts: with a list of folders.",
        )
    for item in node.items:
        if not (root / item.text).is_dir():
            return Problem(
                SITE_FILE,
                item.line,
                f"There is no folder '{item.text}'.",
                "no-layer-file",
                "Name a folder that holds a layer.yaml.",
            )
    return [Layer(root / item.text, item.text.rstrip("/")) for item in node.items]


def _configured(path: Path) -> YamlSequence | None:
    """Return the list of folders; other keys of the site file may hold tags, so only `extra` is read."""
    lines = path.read_text(encoding="utf-8").split("\n")
    start = next((n for n, line in enumerate(lines) if line.startswith("extra:")), None)
    if start is None:
        return None
    end = next((n for n in range(start + 1, len(lines)) if lines[n][:1] not in ("", " ", "#", "-")), len(lines))
    node, problems = load(("\n" * start + "\n".join(lines[start:end])).encode(), SITE_FILE)
    for key in ("extra", "donorbook", "facts"):
        if problems or not isinstance(node, Mapping):
            return None
        node = next((child for name, child in node.pairs if name.text == key), None)
    return node if isinstance(node, YamlSequence) else None
