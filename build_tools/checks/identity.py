"""A file is named after the record it holds, and no two records of a type have one id."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePosixPath

from build_tools.index import Index
from build_tools.problems import Problem
from build_tools.records import Record


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each file name that is not the id, and each id that is taken."""
    seen: dict[tuple[str, str], Record] = {}
    slots: dict[str, Record] = {}
    for record in index.facts.records:
        if record.type != "layer" and PurePosixPath(record.file).stem != record.id:
            yield record.problem(
                (record.type,),
                "file-name",
                f"The file holds the {record.type} '{record.id}'.",
                f"Name the file {record.id}.yaml, or change the id.",
            )
        first = seen.setdefault((record.type, record.id), record)
        if first is not record:
            yield record.problem(
                (record.type,),
                "id-taken",
                f"The {record.type} '{record.id}' is already in {first.file}.",
                "Give one of them another id.",
            )
            continue
        for slot in record.data.get("slots", {}) if record.type == "kind" else ():
            holder = slots.setdefault(slot, record)
            if holder is not record:
                yield record.problem(
                    ("slots", slot),
                    "id-taken",
                    f"The slot '{slot}' is already in {holder.file}.",
                    "Give one of them another id.",
                )
