"""A way to find out by measuring says with what, how long it takes, what can hurt, and what each outcome means."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.index import Index
from build_tools.problems import Problem

NEEDED = (("tools", "Name the meter, gauge or rule."), ("time", "Say how long it takes."), ("hazard", "Say what can hurt, or none."))


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each thing that a measuring way leaves out."""
    asked: dict[str, set[str]] = {}
    for kind in index.kinds.values():
        for name, data in kind.data.get("attributes", {}).items():
            asked.setdefault(data.get("find_out", ""), set()).add(name)
    for record in index.of("find_out").values():
        if record.data.get("ease") != "measure":
            continue
        for key, advice in NEEDED:
            if not record.wrote(key):
                yield record.problem(
                    ("ease",), "way-half-said", f"'{record.id}' measures something and does not say its {key}.", advice
                )
        for name in sorted(asked.get(record.id, set()) - set(record.data.get("expect", {}))):
            yield record.problem(
                ("expect",),
                "way-half-said",
                f"'{record.id}' does not say what is to be expected for '{name}'.",
                f"Write the value to expect and what it means under expect: {name}.",
            )
