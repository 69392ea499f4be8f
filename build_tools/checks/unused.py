"""Every attribute is read by some rule, stop, sum or condition, or stands in the list of known gaps with a reason."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.checks.roles import any_tests, attributes_read
from build_tools.index import Index
from build_tools.problems import Problem


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each attribute nobody reads, and each gap that is none."""
    used = set(used_attributes(index))
    excused = {gap.where for gap in index.facts.gaps}
    unused = {}
    for kind in index.kinds.values():
        for name in kind.data.get("attributes", {}):
            if (kind.id, name) not in used:
                unused[f"{kind.id}.{name}"] = kind.problem(
                    ("attributes", name),
                    "unused-attribute",
                    f"No rule, stop, sum or condition reads '{kind.id}.{name}'.",
                    "Write the rule, take the attribute out, or give the reason in known_gaps.yaml.",
                )
    yield from (problem for where, problem in unused.items() if where not in excused)
    for gap in index.facts.gaps:
        if gap.where not in unused:
            yield Problem(
                gap.file,
                gap.line,
                f"'{gap.where}' is listed as a gap and is none.",
                "unneeded-gap",
                "Take the entry out.",
            )


def used_attributes(index: Index) -> Iterator[tuple[str, str]]:
    """Yield kind and id of every attribute that something reads."""
    for kind in index.kinds.values():
        for data in kind.data.get("attributes", {}).values():
            yield from ((kind.id, name) for name in data.get("applies_when", {}))
    for record in index.facts.records:
        if record.type in ("rule", "stop"):
            names = index.names(record)
            for _, test in any_tests(index, record):
                for name in attributes_read(index, test):
                    slot, _, attribute = name.partition(".")
                    yield names.get(slot, ""), attribute
        for value in record.data.get("sets", {}).values() if record.type == "addition" else ():
            if isinstance(value, dict):
                slot, _, attribute = value["same_as"].partition(".")
                yield index.names(record).get(slot, ""), attribute
