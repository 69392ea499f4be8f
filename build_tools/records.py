"""Gathers the records of the configured layers, each with its file and the line of every value."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from build_tools.load import Mapping, Node, load
from build_tools.problems import Problem, listed, near_match
from build_tools.schema_read import read
from build_tools.schema_records import KNOWN_GAPS, TYPES
from build_tools.schema_scalars import BAD, Outcome
from build_tools.schema_scalars import Path as ValuePath

GAPS_FILE = "known_gaps.yaml"
LAYER_FILE = "layer.yaml"


@dataclass(frozen=True)
class Layer:
    """A folder of facts: where it is, and how its path is shown to a reader."""

    folder: Path
    shown: str


@dataclass(frozen=True)
class Record:
    """One record of one file: its plain values, and the line of each by its path."""

    type: str
    id: str
    layer: str
    file: str
    data: dict[str, Any] = field(compare=False)
    lines: dict[ValuePath, int] = field(compare=False)

    def wrote(self, *path: Any) -> bool:
        """Tell whether something stands at the path, even if it could not be used."""
        return path in self.lines

    def line(self, *path: Any) -> int:
        """Return the line of the value at the path, or of the nearest value above it."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)

    def problem(self, path: ValuePath, check: str, what: str, allowed: str = "", near: str = "") -> Problem:
        """Return a problem at the line of the value at the path."""
        return Problem(self.file, self.line(*path), what, check, allowed, near)


@dataclass(frozen=True)
class Gap:
    """One entry of a list of known gaps."""

    gap: str
    where: str
    file: str
    line: int


@dataclass(frozen=True)
class Facts:
    """All readable records in the order of their layers and files, and the problems met on the way."""

    layers: tuple[str, ...]
    records: tuple[Record, ...]
    gaps: tuple[Gap, ...]
    problems: tuple[Problem, ...]
    unread: frozenset[str]

    def of(self, record_type: str) -> dict[str, Record]:
        """Return the records of a type by id; the first of two with the same id."""
        found: dict[str, Record] = {}
        for record in self.records:
            if record.type == record_type:
                found.setdefault(record.id, record)
        return found


def gather(layers: Sequence[Layer]) -> Facts:
    """Read every file of the layers; what cannot be read becomes a problem, never an exception."""
    records: list[Record] = []
    gaps: list[Gap] = []
    problems: list[Problem] = []
    names: list[str] = []
    unread: set[str] = set()
    for layer in layers:
        name, layer_record, found = _layer(layer)
        names.append(name)
        problems.extend(found)
        if layer_record:
            records.append(layer_record)
        for file in _files(layer, problems):
            shown = f"{layer.shown}/{file.relative_to(layer.folder).as_posix()}"
            node, found = load(file.read_bytes(), shown)
            problems.extend(found)
            if file == layer.folder / GAPS_FILE:
                gaps.extend(_gaps(node, shown, problems))
                continue
            record, found_too = _record(node, shown, name)
            problems.extend(found_too)
            if record:
                records.append(record)
            else:
                unread.add(file.stem)
    return Facts(tuple(names), tuple(records), tuple(gaps), tuple(problems), frozenset(unread))


def _layer(layer: Layer) -> tuple[str, Record | None, list[Problem]]:
    shown = f"{layer.shown}/{LAYER_FILE}"
    path = layer.folder / LAYER_FILE
    if not path.is_file():
        return (
            layer.folder.name,
            None,
            [
                Problem(
                    shown,
                    0,
                    "A folder of facts has no layer.yaml.",
                    "no-layer-file",
                    "Write one with layer, title, invented and about.",
                )
            ],
        )
    node, problems = load(path.read_bytes(), shown)
    record, found = _record(node, shown, "")
    name = record.id if record and record.type == "layer" else layer.folder.name
    if record:
        record = Record(record.type, record.id, name, record.file, record.data, record.lines)
        if record.type != "layer":
            found.append(
                record.problem(
                    (), "no-layer-file", f"layer.yaml holds a {record.type}.", "Its first key must be 'layer'."
                )
            )
    return name, record, problems + found


def _files(layer: Layer, problems: list[Problem]) -> list[Path]:
    kept = []
    for path in sorted(layer.folder.rglob("*")):
        if path.is_dir() or path == layer.folder / LAYER_FILE:
            continue
        if path.suffix == ".yaml":
            kept.append(path)
        else:
            shown = f"{layer.shown}/{path.relative_to(layer.folder).as_posix()}"
            problems.append(
                Problem(
                    shown,
                    0,
                    "A file that is not a record lies among the facts.",
                    "stray-file",
                    "Only files ending in .yaml are read; rename it or move it away.",
                )
            )
    return kept


def _record(node: Node | None, shown: str, layer: str) -> tuple[Record | None, list[Problem]]:
    if node is None:
        return None, []
    if not isinstance(node, Mapping) or not node.pairs:
        return None, [
            Problem(
                shown,
                node.line,
                "The file does not hold a record.",
                "unknown-record",
                listed(TYPES, "Its first key must be one of:"),
            )
        ]
    key = node.pairs[0][0]
    if key.text not in TYPES:
        return None, [
            Problem(
                shown,
                key.line,
                f"'{key.text}' is not a type of record.",
                "unknown-record",
                listed(TYPES, "The first key must be one of:"),
                near_match(key.text, TYPES),
            )
        ]
    out = Outcome(shown)
    data = read(TYPES[key.text], node, out)
    if data is BAD or key.text not in data:
        return None, out.problems
    return Record(key.text, data[key.text], layer, shown, data, out.lines), out.problems


def _gaps(node: Node | None, shown: str, problems: list[Problem]) -> list[Gap]:
    if node is None:
        return []
    out = Outcome(shown)
    data = read(KNOWN_GAPS, node, out)
    problems.extend(out.problems)
    if data is BAD:
        return []
    return [
        Gap(entry["gap"], entry["where"], shown, out.lines[("known_gaps", number)])
        for number, entry in enumerate(data.get("known_gaps", []))
        if "gap" in entry and "where" in entry
    ]
