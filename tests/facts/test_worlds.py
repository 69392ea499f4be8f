"""The search behind the checks on rules agrees with looking at every combination, on many small made-up rules."""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import islice, product
from typing import Any

import pytest

from build_tools.checks import bands, covers, cures, live
from build_tools.index import OTHER, Index, index
from build_tools.records import Facts, Record
from build_tools.search import State
from build_tools.worlds import NA as DOES_NOT_APPLY
from build_tools.worlds import Space, band_called

NA = None
World = dict[str, Any]
CUTS = (3, 6)
POINTS = (2, 3, 5, 6, 8)  # one below, on, between, on, above the two limits


def record(kind: str, name: str, data: dict[str, Any]) -> Record:
    return Record(kind, name, "made", f"{kind}/{name}.yaml", {kind: name, **data}, {(): 1})


def attribute(rng: random.Random, names: list[str]) -> dict[str, Any]:
    form = rng.choice(["values", "values", "identity", "number", "number"])
    data: dict[str, Any] = {"title": "T", "ask": "Q?"}
    if form == "values":
        data["values"] = {value: value for value in ("a", "b", "c")[: rng.randint(2, 3)]}
    elif form == "identity":
        data |= {"identity": True, "named": {"a": "a", "b": "b"}}
    else:
        data["number"] = {"unit": "A", "range": [1, 9]}
    labelled = [name for name in names if name]
    if labelled and rng.random() < 0.4:
        data["applies_when"] = {rng.choice(labelled): rng.choice(["a", ["a", "b"]])}
    return data


def kind(rng: random.Random, name: str) -> Record:
    attributes: dict[str, Any] = {}
    for number in range(rng.randint(1, 3)):
        labelled = [other for other, data in attributes.items() if "number" not in data]
        attributes[f"x{number}"] = attribute(rng, labelled)
    labelled = [other for other, data in attributes.items() if "number" not in data]
    never = [{rng.choice(labelled): "a", rng.choice(labelled): "b"}] if labelled and rng.random() < 0.3 else []
    unsaid = "none" if name == "helper" else "not_sure"
    return record(
        "kind", name, {"attributes": attributes, "never": never, "slots": {name: {"title": name, "if_unsaid": unsaid}}}
    )


def some_test(rng: random.Random, kinds: dict[str, Record]) -> dict[str, Any]:
    slot = rng.choice(sorted(kinds))
    name, data = rng.choice(sorted(kinds[slot].data["attributes"].items()))
    variable = f"{slot}.{name}"
    if rng.random() < 0.15:
        return {f"{slot}.fitted": rng.choice(["yes", "no"])}
    if rng.random() < 0.1:
        return {"relations": [{"made_for": sorted(rng.sample(sorted(kinds), 2)), "is": rng.random() < 0.5}]}
    form = next(key for key in ("values", "identity", "number") if key in data)
    alike = [
        f"{other}.{n}"
        for other, k in sorted(kinds.items())
        for n, d in sorted(k.data["attributes"].items())
        if form in d and f"{other}.{n}" != variable
    ]
    if form == "number":
        limits: dict[str, Any] = {}
        if rng.random() < 0.7:
            limits[rng.choice(["at_most", "below"])] = (
                rng.choice(CUTS) if not alike or rng.random() < 0.4 else rng.choice(alike)
            )
        if not limits or rng.random() < 0.3:
            limits[rng.choice(["at_least", "above"])] = 3 if limits else rng.choice(CUTS)
        if sorted(limits.values(), key=str) == [3, 3]:
            limits = {"at_most": 3}
        return {variable: limits}
    if alike and rng.random() < 0.35:
        return {variable: {rng.choice(["same_as", "differs_from"]): rng.choice(alike)}}
    value = rng.choice(["a", "b"])
    return {variable: rng.choice([value, {"not": value}])}


def made_facts(rng: random.Random) -> Index:
    kinds = {name: kind(rng, name) for name in ("first", "second", "helper")}
    cases = []
    for number in range(rng.randint(2, 4)):
        rows = []
        for _ in range(rng.choice([1, 1, 2])):
            row: dict[str, Any] = {}
            for _ in range(rng.randint(1, 3)):
                row |= some_test(rng, kinds)
            rows.append(row)
        verdict = rng.choice(["works", "works-with-additions", "cannot-tell"])
        case = {"case": f"c{number}", "when": rows if len(rows) > 1 else rows[0], "verdict": verdict, "because": "B."}
        cases.append(case | ({"additions": ["add"]} if verdict == "works-with-additions" else {}))
    cases.append({"otherwise": "will-not-work", "because": "B."})
    rule = record("rule", "made", {"about": ["first"], "partners": ["second"], "helpers": ["helper"], "cases": cases})
    labelled = [
        (f"{slot}.{name}", d)
        for slot, k in sorted(kinds.items())
        for name, d in sorted(k.data["attributes"].items())
        if "number" not in d
    ]
    sets: dict[str, Any] = {}
    if labelled:
        of_helper = [entry for entry in labelled if entry[0].startswith("helper.")]
        name, data = rng.choice(of_helper if of_helper and rng.random() < 0.5 else labelled)
        same = [other for other, d in labelled if other != name and ("values" in d) == ("values" in data)]
        sets[name] = {"same_as": rng.choice(same)} if same and rng.random() < 0.5 else rng.choice(["a", "b"])
    if rng.random() < 0.3:
        sets["helper.fitted"] = "yes"
        inner = [(name, d) for name, d in labelled if name.startswith("helper.")]
        if inner and rng.random() < 0.7:
            sets[rng.choice(inner)[0]] = "a"
    addition = record("addition", "add", {"sets": sets})
    return index(Facts(("made",), (*kinds.values(), rule, addition), (), (), frozenset()))


def parts(found: Index, slot: str) -> Iterator[World]:
    """Yield every part that can be in a slot, or none; written from the rules, not from the search."""
    data = found.kinds[slot].data
    yield {f"{slot}.fitted": "no", **{f"{slot}.{name}": NA for name in data["attributes"]}}
    names = list(data["attributes"])
    domains = []
    for name in names:
        entry = data["attributes"][name]
        domains.append(
            [*POINTS, NA]
            if "number" in entry
            else [*found.values(slot, name), NA] + ([OTHER] if "identity" in entry else [])
        )
    for values in product(*domains):
        part = dict(zip(names, values))
        sound = all(
            (part[name] is not NA)
            == all(
                part[need] in (wanted if isinstance(wanted, list) else [wanted])
                for need, wanted in data["attributes"][name].get("applies_when", {}).items()
            )
            for name in names
        )
        if sound and not any(all(part[name] == value for name, value in box.items()) for box in data["never"]):
            yield {f"{slot}.fitted": "yes", **{f"{slot}.{name}": value for name, value in part.items()}}


def pairs(found: Index) -> tuple[list[tuple[str, str]], list[tuple[str, str]], list[tuple[str, ...]]]:
    """Return the compared numbers, the compared labels and the relations of the rule."""
    signs, alike, relations = set(), set(), set()
    for case in found.of("rule")["made"].data["cases"]:
        for row in case["when"] if isinstance(case.get("when"), list) else [case["when"]] if "when" in case else []:
            for name, test in row.items():
                if name == "relations":
                    relations |= {tuple(entry["made_for"]) for entry in test}
                elif isinstance(test, dict):
                    signs |= {
                        tuple(sorted((name, limit)))
                        for limit in test.values()
                        if isinstance(limit, str) and "." in limit and not {"same_as", "differs_from"} & set(test)
                    }
                    alike |= {tuple(sorted((name, test[key]))) for key in ("same_as", "differs_from") if key in test}
    return sorted(signs), sorted(alike), sorted(relations)


def worlds(found: Index) -> Iterator[World]:
    signs, alike, relations = pairs(found)
    free = [[("sign", pair, sign) for sign in (-1, 0, 1)] for pair in signs]
    free += [[("alike", pair, same) for same in (True, False)] for pair in alike]
    free += [[("made_for", names, said) for said in (True, False)] for names in relations]
    for first, second, helper in product(*(list(parts(found, slot)) for slot in ("first", "second", "helper"))):
        for chosen in product(*free):
            yield {**first, **second, **helper, **{(what, key): value for what, key, value in chosen}}


def holds(world: World, name: str, test: Any) -> bool:
    if name == "relations":
        return all(world["made_for", tuple(entry["made_for"])] == entry["is"] for entry in test)
    value = world[name]
    if value is NA:
        return False
    if not isinstance(test, dict):
        return value == test
    if "not" in test:
        return value != test["not"]
    for key in ("same_as", "differs_from"):
        if key in test:
            other = world[test[key]]
            if other is NA:
                return False
            same = world["alike", tuple(sorted((name, test[key])))] if value == other == OTHER else value == other
            return same == (key == "same_as")
    ways = {
        "at_most": lambda s: s <= 0,
        "below": lambda s: s < 0,
        "at_least": lambda s: s >= 0,
        "above": lambda s: s > 0,
    }
    for key, limit in test.items():
        if isinstance(limit, str):
            if world[limit] is NA:
                return False
            pair = tuple(sorted((name, limit)))
            sign = world["sign", pair] * (1 if pair[0] == name else -1)
        else:
            sign = (value > limit) - (value < limit)
        if not ways[key](sign):
            return False
    return True


def rows(found: Index) -> list[tuple[int, int, dict[str, Any]]]:
    out = []
    for number, case in enumerate(found.of("rule")["made"].data["cases"]):
        if "when" in case:
            listed = case["when"] if isinstance(case["when"], list) else [case["when"]]
            out += [(number, place, row) for place, row in enumerate(listed)]
    return out


def in_question(found: Index, world: World) -> bool:
    read = {name for _, _, row in rows(found) for name in row}
    return all(world[f"{slot}.fitted"] == "yes" or f"{slot}.fitted" in read for slot in ("first", "second"))


def first_row(found: Index, world: World) -> tuple[int, int] | None:
    return next(
        (
            (number, place)
            for number, place, row in rows(found)
            if all(holds(world, name, test) for name, test in row.items())
        ),
        None,
    )


def small_facts(seed: str) -> Index | None:
    found = made_facts(random.Random(seed))
    size = 1
    for slot in ("first", "second", "helper"):
        size *= sum(1 for _ in parts(found, slot))
    signs, alike, relations = pairs(found)
    return found if size * 3 ** len(signs) * 2 ** (len(alike) + len(relations)) < 8_000 else None


def some_facts(seed: int, chunk: int, soak: bool) -> Iterator[tuple[str, Index]]:
    """Yield made-up facts that are small enough to look at every combination, each with the seed that makes it again."""
    tried = (
        (f"{seed}-{chunk}-{number}", small_facts(f"{seed}-{chunk}-{number}")) for number in range(1000 if soak else 120)
    )
    yield from islice(((name, found) for name, found in tried if found is not None), 80 if soak else 8)


@pytest.mark.parametrize("chunk", range(10))
def test_exactly_the_rows_that_no_combination_reaches_are_named(chunk: int, seed: int, soak: bool) -> None:
    named = compared = 0
    for name, found in some_facts(seed, chunk, soak):
        reached = {first_row(found, world) for world in worlds(found) if in_question(found, world)}
        expected = {(number, place) for number, place, _ in rows(found)} - reached

        said = list(live.check(found))

        titles = {
            f"'c{number}'" + (f", row {place + 1}," if len([r for r in rows(found) if r[0] == number]) > 1 else "")
            for number, place in expected
        }
        assert {
            problem.what.split("The case ")[1].split(" matches")[0].split(" is never")[0] for problem in said
        } == titles, name
        named += len(titles)
        compared += 1
    assert compared == (80 if soak else 8)
    assert named > 0


@pytest.mark.parametrize("chunk", range(10))
def test_exactly_the_cases_that_an_addition_leaves_failing_are_named(chunk: int, seed: int, soak: bool) -> None:
    compared = 0
    for name, found in some_facts(seed, chunk, soak):
        cases = found.of("rule")["made"].data["cases"]
        sets = found.of("addition")["add"].data["sets"]
        expected = set()
        for world in worlds(found):
            row = first_row(found, world) if in_question(found, world) else None
            if row is None or cases[row[0]]["verdict"] != "works-with-additions":
                continue
            done = {name: value for name, value in sets.items() if takes_effect(world, sets, name, value)}
            sets_to = {
                name: sets.get(value["same_as"], world[value["same_as"]]) if isinstance(value, dict) else value
                for name, value in done.items()
            }
            after = world | {name: value for name, value in sets_to.items() if not isinstance(value, dict)}
            compared += 1
            landed = first_row(found, with_flags(found, after, done))
            if landed is None or cases[landed[0]]["verdict"] == "cannot-tell":
                expected.add(f"c{row[0]}")

        said = {problem.what.split("the case '")[1].split("'")[0] for problem in cures.check(found)}

        assert said == expected, name
    assert compared > 0


def takes_effect(world: World, sets: dict[str, Any], name: str, value: Any) -> bool:
    """A part that is not there has no attributes to set, and a copy of what does not apply changes nothing."""
    if name.endswith(".fitted"):
        return True
    fitted = f"{name.split('.')[0]}.fitted"
    if sets.get(fitted, world[fitted]) == "no":
        return False
    return (
        not isinstance(value, dict) or isinstance(sets.get(value["same_as"]), str) or world[value["same_as"]] is not NA
    )


def with_flags(found: Index, after: World, sets: dict[str, Any]) -> World:
    """Two names that hold one and the same value, because one was copied, are alike even where it is another one."""
    for target, value in sets.items():
        if isinstance(value, dict):
            after[("alike", tuple(sorted((target, value["same_as"]))))] = True
            for pair in pairs(found)[1]:
                if target in pair and value["same_as"] not in pair:
                    other = pair[0] if pair[1] == target else pair[1]
                    through = tuple(sorted((value["same_as"], other)))
                    after[("alike", pair)] = after.get(("alike", through), after[("alike", pair)])
    return after


@pytest.mark.parametrize("chunk", range(10))
def test_exactly_the_numbers_left_open_between_two_cases_are_named(chunk: int, seed: int, soak: bool) -> None:
    for name, found in some_facts(seed, chunk, soak):
        said = {problem.what.split(" reaches")[0] for problem in bands.check(found)}

        assert said == open_numbers(found), name


def open_numbers(found: Index) -> set[str]:
    """Look at every combination and move one number, or one comparison, alone; between two cases it must reach one."""
    limits: dict[Any, set[int]] = {("sign", pair): set() for pair in pairs(found)[0]}
    for _, _, row in rows(found):
        for name, test in row.items():
            if isinstance(test, dict) and not {"not", "same_as", "differs_from"} & set(test):
                limits.setdefault(name, set()).update(limit for limit in test.values() if isinstance(limit, int))
    out = set()
    for world in worlds(found):
        if not in_question(found, world) or first_row(found, world) is not None:
            continue
        for name, cuts in limits.items():
            compared = isinstance(name, tuple)
            if (world[name[1][0]] is NA or world[name[1][1]] is NA) if compared else world[name] is NA:
                continue
            here = world[name]
            points = (-1, 0, 1) if compared else POINTS
            reached = [point for point in points if first_row(found, {**world, name: point}) is not None]
            if any(point < here for point in reached) and any(point > here for point in reached):
                out.add(
                    f"'{name[1][0]}' exactly at '{name[1][1]}'"
                    if compared
                    else f"'{name}' {band_words(here, sorted(cuts))}"
                )
    return out


def band_words(point: int, cuts: list[int]) -> str:
    if point in cuts:
        return f"of exactly {point}"
    under, over = [cut for cut in cuts if cut < point], [cut for cut in cuts if cut > point]
    return (
        f"between {under[-1]} and {over[0]}"
        if under and over
        else f"above {under[-1]}"
        if under
        else f"below {over[0]}"
    )


def without_last(found: Index) -> Index:
    """Return the made-up facts with a rule that has no `otherwise`."""
    rule = found.of("rule")["made"]
    bare = record("rule", "made", {**rule.data, "cases": rule.data["cases"][:-1]})
    return index(Facts(("made",), (*(one for one in found.facts.records if one is not rule), bare), (), (), frozenset()))


def fits(found: Space, state: State, world: World) -> bool:
    """Tell whether a world has the values of a state; written from what the names of the variables mean."""
    for name, (value,) in ((name, tuple(left)) for name, left in state.items()):
        what, *of = name.split(" ")
        if what == "relation":
            same = world[of[0], tuple(of[1:])] == (value == "yes")
        elif what == "alike":
            same = not world[of[0]] == world[of[1]] == OTHER or world["alike", tuple(of)] == (value == "yes")
        elif what == "sign":
            same = world["sign", tuple(of)] == value
        elif isinstance(value, int):
            cuts = list(found.cuts.get(name, ()))
            same = world[name] is not NA and (not cuts or band_called(found, name, value) == f"'{name}' {band_words(world[name], cuts)}")
        else:
            same = world[name] == (NA if value == DOES_NOT_APPLY else value)
        if not same:
            return False
    return True


@pytest.mark.parametrize("chunk", range(10))
def test_exactly_the_rules_that_leave_a_combination_over_are_named_and_the_example_is_one(chunk: int, seed: int, soak: bool) -> None:
    seen = set()
    for name, with_last in some_facts(seed, chunk, soak):
        found = without_last(with_last)
        asked = [world for world in worlds(found) if in_question(found, world)]
        covered = all(first_row(found, world) is not None for world in asked)

        said, left = list(covers.check(found)), covers.uncovered(found, found.of("rule")["made"])

        assert [problem.check for problem in said] == ([] if covered else ["otherwise"]), name
        assert [problem.check for problem in covers.check(with_last)] == (["unreachable-case"] if covered else []), name
        examples = [first_row(found, world) for world in asked if left is not None and fits(*left, world)]
        assert set(examples) == (set() if covered else {None}), name
        seen.add(covered)
    assert False in seen


def test_some_made_up_rules_leave_nothing_over(seed: int) -> None:
    found = [one for number in range(400) if (one := small_facts(f"{seed}-cover-{number}")) is not None]

    covering = [one for one in found if not list(covers.check(without_last(one)))]

    assert covering
    assert all(first_row(one, world) is not None for one in covering[:5] for world in worlds(one) if in_question(one, world))
