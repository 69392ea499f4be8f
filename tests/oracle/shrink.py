"""Make a disagreement small: drop whatever can be dropped while it stays."""

from __future__ import annotations

import copy
import re
from typing import Callable, Iterator

from tests.oracle.ground import Json

Case = tuple[Json, Json]


def shrink(book: Json, build: Json, disagrees: Callable[[Json, Json], bool]) -> Case:
    """Return the smallest book and build reached by dropping one thing at a time; errors count as agreement."""
    def still(case: Case) -> bool:
        try:
            return disagrees(*case)
        except Exception:  # a cut that breaks a reference is no reproduction
            return False

    now: Case = (book, build)
    while True:
        smaller = next((case for case in _cuts(*now) if still(case)), None)
        if smaller is None:
            return now
        now = smaller


def _cuts(book: Json, build: Json) -> Iterator[Case]:
    for key in ("asks", "whole_swap", "nothing_added", "relations", "taken_as_right"):
        if key in build:
            yield book, {k: v for k, v in build.items() if k != key}
    for n in range(len(build.get("relations", []))):
        yield book, {**build, "relations": build["relations"][:n] + build["relations"][n + 1:]}
    for slot, said in build["slots"].items():
        yield book, {**build, "slots": {k: v for k, v in build["slots"].items() if k != slot}}
        if isinstance(said, dict):
            for smaller in _smaller_said(said):
                yield book, {**build, "slots": {**build["slots"], slot: smaller}}
    for sort in ("stops", "rules", "sets", "families", "additions", "kinds"):
        for name in book[sort]:
            smaller = _without(book, sort, name)
            if not _dangling(smaller):
                yield smaller, build
    for name, rule in book["rules"].items():
        for change in _smaller_rule(rule):
            yield {**book, "rules": {**book["rules"], name: change}}, build
    for name, stop in book["stops"].items():
        if len(stop["when"][0]) > 1:
            for n in range(len(stop["when"][0])):
                row = stop["when"][0][:n] + stop["when"][0][n + 1:]
                yield {**book, "stops": {**book["stops"], name: {**stop, "when": [row]}}}, build
    for name, one in book["additions"].items():
        for key, empty in (("needs", []), ("changes", [])):
            if one[key]:
                yield {**book, "additions": {**book["additions"], name: {**one, key: empty}}}, build
        for var in one["sets"]:
            sets = {k: v for k, v in one["sets"].items() if k != var}
            yield {**book, "additions": {**book["additions"], name: {**one, "sets": sets}}}, build
    yield from _smaller_kinds(book, build)


def _smaller_said(said: Json) -> Iterator[Json]:
    if said.get("keep"):
        yield {k: v for k, v in said.items() if k != "keep"}
    told = said.get("told", {})
    for attr in told:
        less = {k: v for k, v in told.items() if k != attr}
        if less or set(said) & {"family", "one_of", "in_hand", "state"}:
            yield {**said, "told": less}
        if isinstance(told[attr], dict) and told[attr].get("assumed"):
            yield {**said, "told": {**told, attr: told[attr]["is"]}}
    for key in ("one_of", "in_hand"):
        for n in range(len(said.get(key, []))):
            if len(said[key]) > 1:
                yield {**said, key: said[key][:n] + said[key][n + 1:]}


def _smaller_rule(rule: Json) -> Iterator[Json]:
    cases = rule["cases"]
    for n in range(len(cases) - 1):
        yield {**rule, "cases": cases[:n] + cases[n + 1:]}
    for n, case in enumerate(cases[:-1]):
        for change in _smaller_case(case):
            yield {**rule, "cases": cases[:n] + [change] + cases[n + 1:]}
    for role in ("partners", "helpers"):
        for slot in rule[role]:
            if f'"{slot}' not in str(cases).replace("'", '"'):
                yield {**rule, role: [s for s in rule[role] if s != slot]}


def _smaller_case(case: Json) -> Iterator[Json]:
    rows = case["when"]
    for n in range(len(rows)):
        if len(rows) > 1:
            yield {**case, "when": rows[:n] + rows[n + 1:]}
        for k in range(len(rows[n])):
            yield {**case, "when": rows[:n] + [rows[n][:k] + rows[n][k + 1:]] + rows[n + 1:]}
    for n in range(len(case["additions"])):
        if len(case["additions"]) > 1:
            yield {**case, "additions": case["additions"][:n] + case["additions"][n + 1:]}
        if len(case["additions"][n]) > 1:
            for k in range(len(case["additions"][n])):
                less = case["additions"][n][:k] + case["additions"][n][k + 1:]
                yield {**case, "additions": case["additions"][:n] + [less] + case["additions"][n + 1:]}


def _without(book: Json, sort: str, name: str) -> Json:
    new = copy.deepcopy(book)
    del new[sort][name]
    if sort == "kinds":
        new["slots"] = {s: one for s, one in new["slots"].items() if one["kind"] != name}
        new["families"] = {f: one for f, one in new["families"].items() if one["kind"] != name}
        new["slot_order"] = sorted(new["slots"])
        new["sets"] = {}
    new["rule_order"] = sorted(new["rules"])
    return new


def _dangling(book: Json) -> bool:
    text = str({k: book[k] for k in ("rules", "stops", "additions", "sets")})
    used_additions = {a for r in book["rules"].values() for c in r["cases"] for alt in c["additions"] for a in alt}
    used_additions |= {n for one in book["additions"].values() for n in one["needs"]}
    if not used_additions <= set(book["additions"]):
        return True
    families = {f for one in book["sets"].values() for some in one["families"].values() for f in some}
    if not families <= set(book["families"]):
        return True
    return any(s not in book["slots"] for s in re.findall(r"slot_\d(?:_left|_right)?", text)) or \
        any(k not in book["kinds"] for k in re.findall(r"'(kind_\d)'", text))


def _smaller_kinds(book: Json, build: Json) -> Iterator[Case]:
    rest = str({k: book[k] for k in ("rules", "stops", "additions", "families")}) + str(build)
    for kind, record in book["kinds"].items():
        if record["never"]:
            yield {**book, "kinds": {**book["kinds"], kind: {**record, "never": []}}}, build
        for n, one in enumerate(record["attributes"]):
            attributes = record["attributes"][:n] + record["attributes"][n + 1:]
            if not any(one["id"] in (a["applies_when"] or {}) for a in attributes) \
                    and not any(one["id"] in box for box in record["never"]) and not _named(rest, record, one["id"]):
                yield {**book, "kinds": {**book["kinds"], kind: {**record, "attributes": attributes}}}, build
            if one["applies_when"]:
                plain = [{**a, "applies_when": None} if a is one else a for a in record["attributes"]]
                yield {**book, "kinds": {**book["kinds"], kind: {**record, "attributes": plain}}}, build
    for family, record in book["families"].items():
        for attr in record["attributes"]:
            less = {k: v for k, v in record["attributes"].items() if k != attr}
            yield {**book, "families": {**book["families"], family: {**record, "attributes": less}}}, build


def _named(text: str, record: Json, attr: str) -> bool:
    return any(f"{place}.{attr}" in text for place in (*record["slots"], "item")) or f"'{attr}':" in text


def brief(book: Json, build: Json) -> str:
    """Return a short text of a small book and build: only what decides."""
    lines = []
    for kind, record in book["kinds"].items():
        lines.append(f"kind {kind} slots {record['slots']} open_from {record['open_from']} never {record['never']}")
        for a in record["attributes"]:
            values = [v for v, _ in a["values"]] or (a["low"], a["high"], a["band"], a["whole"])
            lines.append(f"  {a['id']} {a['type']} {values} applies_when {a['applies_when']}"
                         + (" told_only" if a["told_only"] else ""))
    lines += [f"slot {s} if_unsaid {one['if_unsaid']}" for s, one in book["slots"].items()]
    lines += [f"family {f} {one['kind']} { {a: e['is'] for a, e in one['attributes'].items()} }"
              for f, one in book["families"].items()]
    lines += [f"set {s} {one['families']}" for s, one in book["sets"].items()]
    lines += [f"addition {a} {one['type']} each {one['each']} changes {one['changes']} sets {one['sets']} "
              f"needs {one['needs']}" for a, one in book["additions"].items()]
    for r, rule in book["rules"].items():
        lines.append(f"rule {r} {rule['subject']} each {rule['each']} about {rule['about']} partners {rule['partners']} "
                     f"helpers {rule['helpers']}")
        lines += [f"  {c['case']}: {c['when']} -> {c['verdict']} {c['additions'] or ''}" for c in rule["cases"]]
    lines += [f"stop {s} {one['effect']} each {one['each']} about {one['about']} partners {one['partners']} helpers "
              f"{one['helpers']} when {one['when']}" for s, one in book["stops"].items()]
    return "\n".join([*lines, f"build {build}"])
