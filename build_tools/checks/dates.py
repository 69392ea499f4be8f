"""Every claim says when it was last checked, and no date lies ahead."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from build_tools.index import Index
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.schema_records import CLAIMS


def check(index: Index, today: date) -> Iterator[Problem]:
    """Yield a problem for each claim without a date and each date after today."""
    for record in index.facts.records:
        if record.type in (*CLAIMS, "source") and not _has_date(record):
            yield record.problem(
                (record.type,),
                "checked-missing",
                f"Nothing says when the {record.type} '{record.id}' was last checked.",
                'Write checked: with the day in quotes, as in "2026-01-31".',
            )
        for path, day in _dates((), record.data):
            if day > today.isoformat():
                yield record.problem(
                    path,
                    "future-date",
                    f"'{day}' lies ahead of today, {today.isoformat()}.",
                    "Write the day somebody checked it.",
                )


def _has_date(record: Record) -> bool:
    if record.wrote("checked"):
        return True
    told = record.data.get("attributes", {}).values() if record.type == "family" else ()
    return bool(told) and all(isinstance(entry, dict) and "checked" in entry for entry in told)


def _dates(path: tuple[Any, ...], value: Any) -> Iterator[tuple[tuple[Any, ...], str]]:
    if isinstance(value, dict):
        for key, child in value.items():
            if key == "checked" and isinstance(child, str):
                yield path + (key,), child
            else:
                yield from _dates(path + (key,), child)
    elif isinstance(value, list):
        for number, child in enumerate(value):
            yield from _dates(path + (number,), child)
