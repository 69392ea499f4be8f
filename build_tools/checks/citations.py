"""Every source, fault code and way to find out that a record names is a record, and whatever a cause points at."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.checks.references import Path, missing
from build_tools.index import Index
from build_tools.problems import Problem
from build_tools.records import Record


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each cited name that stands for nothing."""
    sources, codes, ways = index.of("source"), index.of("code"), index.of("find_out")
    for record in index.facts.records:
        for path, cited in citations(record):
            yield from missing(record, path, "source", cited.partition("#")[0], sources)
        if record.type == "kind":
            for name, data in record.data.get("attributes", {}).items():
                if "find_out" in data:
                    yield from missing(
                        record, ("attributes", name, "find_out"), "way to find out", data["find_out"], ways
                    )
        if record.type == "rule":
            for path, holder in [((), record.data)] + [
                (("cases", n), case) for n, case in enumerate(record.data.get("cases", []))
            ]:
                for number, code in enumerate(holder.get("codes", [])):
                    yield from missing(record, path + ("codes", number), "code", code, codes)
        if record.type in ("code", "symptom"):
            yield from _causes(index, record)
        if record.type == "find_out":
            yield from _expected(index, record)


def _causes(index: Index, record: Record) -> Iterator[Problem]:
    """Yield a problem for each cause and stop that points at nothing."""
    named = {"rule": "rule", "find_out": "way to find out", "sum": "sum", "code": "code"}
    for number, cause in enumerate(record.data.get("causes", [])):
        if isinstance(cause, dict):
            for key, what in named.items():
                if key in cause:
                    yield from missing(record, ("causes", number, key), what, cause[key], index.of(key))
    for number, stop in enumerate(record.data.get("stops", [])):
        yield from missing(record, ("stops", number), "stop", stop, index.of("stop"))
    if record.data.get("group") == "danger" and not record.wrote("first"):
        yield record.problem(
            ("group",),
            "danger-first",
            "A dangerous symptom does not say what to do before anything else.",
            "Write it under first, in whole sentences.",
        )


def citations(record: Record) -> Iterator[tuple[Path, str]]:
    """Yield the path and text of every source that a record cites."""
    if record.type == "source":
        return
    stack: list[tuple[Path, Any]] = [((), record.data)]
    while stack:
        path, value = stack.pop()
        if isinstance(value, dict):
            for key, child in value.items():
                if key == "source" and isinstance(child, str):
                    yield path + (key,), child
                elif key == "sources" and isinstance(child, list):
                    yield from ((path + (key, number), cited) for number, cited in enumerate(child))
                else:
                    stack.append((path + (key,), child))
        elif isinstance(value, list):
            stack.extend((path + (number,), child) for number, child in enumerate(value))


def _expected(index: Index, record: Record) -> Iterator[Problem]:
    asked = sorted(
        {
            name
            for kind in index.kinds.values()
            for name, data in kind.data.get("attributes", {}).items()
            if data.get("find_out") == record.id
        }
    )
    for name in record.data.get("expect", {}):
        yield from missing(record, ("expect", name), "attribute", name, asked)
