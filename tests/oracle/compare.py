"""What differs between the engine's answer and an oracle's, in words; an empty list means they agree."""

from __future__ import annotations

import json
from typing import Any

from tests.oracle.brute import Verdict
from tests.oracle.ground import Json, scope, spoken_of
from wizard.engine import Book, answer, load
from wizard.engine.build import read_build
from wizard.engine.model import VERDICTS
from wizard.engine.report import judge


def engine_answer(book: Json, build: Json) -> Json:
    """Return the engine's answer as a mapping."""
    return json.loads(answer(load(json.dumps(book, sort_keys=True)), json.dumps(build, sort_keys=True)))


def engine_verdict(loaded: Book, build: Json) -> Json:
    """Return the engine's verdict with its refusing stops, in the shape of an answer, without what explains it."""
    found = judge(loaded, read_build(loaded, json.dumps(build, sort_keys=True)), frozenset(), brief=True)
    refusing = [(inst, how) for inst, how, _ in found.stops if loaded.data["stops"][inst.rule]["effect"] == "refuse"]
    return {"verdict": None if found.verdict is None else VERDICTS[found.verdict], "refused": found.refused,
            "contradiction": [] if found.verdict is None else None, "limit_hit": found.decision.limit,
            "stops": {wanted: [{"stop": inst.rule, "slot": inst.slot} for inst, how in refusing if how == wanted]
                      for wanted in ("certain", "possible")} | {"unspoken": _unspoken(loaded.data, build)}}


def _unspoken(book: Json, build: Json) -> list[Json]:
    """Return the stops that an answer leaves out while nobody spoke of what they read."""
    asked = scope(book, build)
    return [{"stop": one.id, "slot": one.slot} for one in asked.stops if not spoken_of(book, build, asked, one)]


def _names(stops: list[Json]) -> set[tuple[str, str | None]]:
    return {(one["stop"], one["slot"]) for one in stops}


def differences(book: Json, build: Json, found: Json, expected: Verdict) -> list[str]:
    """Return where an answer's verdicts, stops and reasons are not what brute force finds."""
    wrong: list[str] = []

    def check(what: str, engine: Any, oracle: Any) -> None:
        if engine != oracle:
            wrong.append(f"{what}: engine {engine}, oracle {oracle}")

    if found["limit_hit"]:  # then it may know less than the oracle, but must not promise more
        promised = found["verdict"] in ("works", "works-with-additions") and found["verdict"] != expected.verdict
        return [f"at a limit: engine {found['verdict']}, oracle {expected.verdict}"] if promised else []
    check("verdict", found["verdict"], expected.verdict)
    check("refused", found["refused"], expected.refused)
    check("contradiction", found["contradiction"] is not None, expected.contradiction)
    if expected.contradiction:
        return wrong
    if not expected.refused:
        check("subjects", {one["subject"]: one["verdict"] for one in found["subjects"]}, expected.subjects)
    refusing = {name for name in expected.certain if book["stops"][name[0]]["effect"] == "refuse"}
    check("certain stops", _names(found["stops"]["certain"]), refusing)
    possible = {name for name in expected.possible if book["stops"][name[0]]["effect"] == "refuse"}
    check("possible stops", _names(found["stops"]["possible"]), possible)
    holds = {name for name in expected.certain | expected.possible if book["stops"][name[0]]["effect"] == "hold"}
    check("hold stops", _names(found["stops"]["hold"]), holds)
    check("assumed", found["without_assumed"], expected.without_assumed)
    return wrong + wrong_cases(build, found, expected)


def wrong_cases(build: Json, found: Json, expected: Verdict) -> list[str]:
    """Return the rules that an answer lets come to other cases than brute force finds; what is chosen leaves fewer."""
    if expected.refused:
        return []
    taken = {one["rule"] for one in build.get("taken_as_right", [])}
    mine = {(one["rule"], one["slot"]): {case["case"] for case in one["cases"]} for one in found["reasons"]}
    chosen = bool(found["choices"])
    wrong = []
    for rule in sorted({*mine, *expected.cases}, key=str):
        engine, oracle = mine.get(rule, set()), expected.cases.get(rule, frozenset()) - {None}
        if rule[0] not in taken and not (engine <= oracle if chosen else engine == oracle):
            wrong.append(f"cases of {rule}: engine {sorted(engine)}, oracle {sorted(filter(None, oracle))}")
    return wrong


def viable(found: Json) -> dict[str, list[str]]:
    """Return, per open slot that was looked at, the families that still lead to an answer that works."""
    return {one["slot"]: sorted(part["family"] for part in one["viable"]) for one in found["choices"]
            if one["state"] == "open" and one["looked_at"]
            and any(one[key] for key in ("viable", "depends", "not_viable"))}
