"""Every claim says where it comes from, and a published source says at which place."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.checks.citations import citations
from build_tools.index import Index
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.schema_records import CLAIMS


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each claim without a source, and each citation that proves nothing."""
    invented = {record.id for record in index.of("layer").values() if record.data.get("invented")}
    known = index.of("source")
    layers = set(index.of("layer"))
    for record in index.facts.records:
        if record.type in CLAIMS and not _has_source(record):
            where = "source or sources" if record.type in ("rule", "stop") else "source"
            yield record.problem(
                (record.type,),
                "source-missing",
                f"The {record.type} '{record.id}' has no source.",
                f"Name a source record with {where}; one of kind common-practice or from-memory will do if it is true.",
            )
        for path, cited in citations(record):
            name, _, place = cited.partition("#")
            kind = known[name].data.get("kind") if name in known else None
            if kind == "published" and not place.strip():
                yield record.problem(
                    path,
                    "place-missing",
                    f"'{name}' is published, and no place in it is named.",
                    f"Write the place somebody read, as in {name}#page 12.",
                )
            if kind == "invented" and record.layer in layers - invented:
                yield record.problem(
                    path,
                    "invented-source",
                    f"'{name}' is an invented source, and the layer '{record.layer}' is not invented.",
                    'Only a layer with invented: "yes" may cite it.',
                )


def _has_source(record: Record) -> bool:
    data = record.data
    if record.wrote("source") or record.wrote("sources"):
        return True
    if record.type == "family":
        told = data.get("attributes", {}).values()
        return bool(told) and all(isinstance(entry, dict) and "source" in entry for entry in told)
    if record.type == "rule":
        return all("sources" in case for case in data.get("cases", []))
    return False
