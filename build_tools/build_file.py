"""Reads a build that somebody wrote down, strictly, against the facts it speaks of."""

from __future__ import annotations

from typing import Any, NamedTuple

from build_tools.checks.builds import build_problems
from build_tools.index import Index
from build_tools.load import Mapping, load
from build_tools.problems import Problem, in_order
from build_tools.records import Record
from build_tools.schema_build import BUILD
from build_tools.schema_read import read
from build_tools.schema_records import TYPES
from build_tools.schema_scalars import BAD, Outcome


class ReadBuild(NamedTuple):
    """A build as plain values, or what is wrong with it."""

    build: dict[str, Any]
    problems: list[Problem]


def read_build_file(index: Index, raw: bytes, shown: str) -> ReadBuild:
    """Return the build of a YAML or JSON file; a worked build of the facts gives what its customer said."""
    node, problems = load(raw, shown)
    if node is None:
        return ReadBuild({}, problems)
    worked = isinstance(node, Mapping) and node.pairs and node.pairs[0][0].text == "build"
    out = Outcome(shown)
    data = read(TYPES["build"] if worked else BUILD, node, out)
    problems = problems + out.problems
    if data is BAD:
        return ReadBuild({}, in_order(problems))
    build = data.get("given", {}) if worked else data
    record = Record("build", data.get("build", shown) if worked else shown, "", shown, data, out.lines)
    problems += build_problems(index, record, ("given",) if worked else (), build)
    return ReadBuild(build, in_order(problems))
