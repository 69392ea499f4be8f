"""Which rules and stops carry which mechanism of the trade, as a page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from build_tools.mechanisms.titles import DOUBTS, SUBSYSTEMS, TITLES
from build_tools.records import Facts, Record

HEAD = """\
# Mechanisms and the rules that carry them

Made by `python -m build_tools.mechanisms` from the facts; do not edit it by hand.
A mechanism is one way in which parts of a swap do or do not work together. Each is decided by the rules beside it, and by stops where it can hurt or break the law.
*Thought further* says where a rule goes beyond the bare mechanism, or closes a gap in it, and why. *In doubt* says what somebody of the trade should still look at.
"""


def carriers(facts: Facts) -> dict[str, list[Record]]:
    """Return the rules, then the stops, of each mechanism that any of them names, each in order of id."""
    found: dict[str, list[Record]] = {}
    for kind in ("rule", "stop"):
        for _, record in sorted(facts.of(kind).items()):
            if "mechanism" in record.data:
                found.setdefault(record.data["mechanism"], []).append(record)
    return found


def problems(facts: Facts) -> list[str]:
    """Return what does not fit together: mechanisms without a rule, rules without a known mechanism, stray doubts."""
    named = carriers(facts)
    without = [f"no rule carries {one}" for one in TITLES if not any(record.type == "rule" for record in named.get(one, []))]
    unknown = [f"{record.type} {record.id} names {one}, which is no known mechanism"
               for one, some in sorted(named.items()) if one not in TITLES for record in some]
    silent = [f"rule {name} names no mechanism" for name, record in sorted(facts.of("rule").items()) if "mechanism" not in record.data]
    stray = [f"a doubt is noted for {one}, which is no known mechanism" for one in DOUBTS if one not in TITLES]
    return without + unknown + silent + stray


def page(facts: Facts) -> str:
    """Return docs/mechanisms.md; the same facts give the same text."""
    named = carriers(facts)
    rules = sum(record.type == "rule" for some in named.values() for record in some)
    parts = [HEAD, f"{len(TITLES)} mechanisms, {rules} rules, {sum(map(len, named.values())) - rules} stops, {len(DOUBTS)} in doubt.\n"]
    for prefix, title in SUBSYSTEMS.items():
        parts.append(f"## {title}\n")
        parts += [_entry(one, named.get(one, [])) for one in TITLES if one.startswith(prefix + "-")]
    return "\n".join(parts)


def _entry(mechanism: str, records: Iterable[Record]) -> str:
    lines = [f"### {mechanism} {TITLES[mechanism]}", ""]
    lines += [f"- {_line(record)}" for record in records]
    lines += [f"- Thought further (`{record.id}`): {_one_line(record.data)}" for record in records if "note" in record.data]
    if mechanism in DOUBTS:
        lines.append(f"- In doubt: {DOUBTS[mechanism]}")
    return "\n".join(lines) + "\n"


def _line(record: Record) -> str:
    word = "stop" if record.type == "stop" else "rule"
    return f"{word} [{record.id}](../{record.file}): {record.data['title']}"


def _one_line(data: Mapping[str, str]) -> str:
    return " ".join(data["note"].split())
