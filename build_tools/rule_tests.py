"""Turns the tests of a `when` into their one normal form, saying what does not suit the attribute tested."""

from __future__ import annotations

from typing import Any, NamedTuple

from build_tools.index import OTHER, Index, as_list, attribute_type, rows_of
from build_tools.problems import listed, near_match
from build_tools.schema_scalars import Path

LIMITS = ("at_least", "above", "at_most", "below")
Normal = dict[str, Any]


class Fault(NamedTuple):
    """Something wrong at a path below a record."""

    path: Path
    check: str
    what: str
    allowed: str = ""
    near: str = ""


class Variable(NamedTuple):
    """What a name such as `sensor.plug` or `sum.pulses` stands for: values, identity, number, fitted."""

    type: str
    kind: str = ""
    attribute: str = ""
    whole: bool = False


def variable(index: Index, names: dict[str, str], name: str, path: Path) -> Variable | Fault:
    """Return what a name stands for, or the fault when it stands for nothing."""
    head, _, tail = name.partition(".")
    if head == "sum":
        sums = index.of("sum")
        return (
            Variable("number")
            if tail in sums
            else Fault(
                path, "unknown-reference", f"There is no sum '{tail}'.", listed(sums, "Sums:"), near_match(tail, sums)
            )
        )
    if head not in names:
        return Fault(
            path, "unknown-reference", f"There is no slot '{head}'.", listed(names, "Slots:"), near_match(head, names)
        )
    if tail == "fitted":
        return Variable("fitted")
    data = index.attributes(names[head]).get(tail)
    if data is None:
        known = index.attributes(names[head])
        return Fault(
            path,
            "unknown-reference",
            f"A {names[head]} has no attribute '{tail}'.",
            listed([*known, "fitted"], "Attributes:"),
            near_match(tail, known),
        )
    return Variable(attribute_type(data), names[head], tail, bool(data.get("number", {}).get("whole")))


def normal_rows(
    index: Index, names: dict[str, str], when: Any, path: Path = ()
) -> tuple[list[list[Normal]], list[Fault]]:
    """Return the rows of normal tests and the faults; a test with a fault is left out."""
    rows: list[list[Normal]] = []
    faults: list[Fault] = []
    for below, row in rows_of(when):
        tests: list[Normal] = []
        for name, test in sorted(row.items()):
            place = path + below + (name,)
            found = _relations(names, test, place) if name == "relations" else _test(index, names, name, test, place)
            for entry in found:
                (faults if isinstance(entry, Fault) else tests).append(entry)  # type: ignore[arg-type]
        rows.append(tests)
    return rows or [[]], faults


def _relations(names: dict[str, str], test: list[dict[str, Any]], path: Path) -> list[Normal | Fault]:
    found: list[Normal | Fault] = []
    for number, entry in enumerate(test):
        relation = next(key for key in entry if key != "is")
        unknown = [slot for slot in entry[relation] if slot not in names]
        for slot in unknown:
            found.append(
                Fault(
                    path + (number,),
                    "unknown-reference",
                    f"There is no slot '{slot}'.",
                    listed(names, "Slots:"),
                    near_match(slot, names),
                )
            )
        if not unknown:
            found.append(
                {"relation": relation, "of": sorted(entry[relation]), "is": "yes" if entry.get("is") else "no"}
            )
    return found


def _test(index: Index, names: dict[str, str], name: str, test: Any, path: Path) -> list[Normal | Fault]:
    what = variable(index, names, name, path)
    if isinstance(what, Fault):
        return [what]
    if isinstance(test, dict) and any(key in LIMITS for key in test):
        return _limits(index, names, name, what, test, path)
    if isinstance(test, dict) and ("same_as" in test or "differs_from" in test):
        return _compared(index, names, name, what, test, path)
    if isinstance(test, dict) and not test:
        return [
            Fault(
                path,
                "bad-test",
                f"'{name}' is tested against nothing.",
                "Write a value, a list, or one of not, same_as, at_least...",
            )
        ]
    negated = isinstance(test, dict)
    return _listed(index, name, what, as_list(test["not"] if negated else test), negated, path)


def _listed(
    index: Index, name: str, what: Variable, wanted: list[Any], negated: bool, path: Path
) -> list[Normal | Fault]:
    if what.type == "number":
        if what.whole and not negated and len(wanted) == 1 and isinstance(wanted[0], (int, float)):
            return [_band(name, wanted[0], False, wanted[0], False)]
        return [
            Fault(
                path,
                "bad-test",
                f"'{name}' is a number and is tested for a value.",
                "Test it with at_least, at_most, above or below; only a whole number may be tested for one value.",
            )
        ]
    known = ("yes", "no") if what.type == "fitted" else index.values(what.kind, what.attribute)
    allowed = (*known, OTHER) if what.type == "identity" and OTHER not in known else known
    faults = value_faults(name, wanted, allowed, path)
    if faults:
        return list(faults)
    if what.type == "fitted" and (negated or len(wanted) > 1):
        return [Fault(path, "bad-test", f"'{name}' is tested with not or a list.", 'Test it for "yes" or for "no".')]
    kept = [value for value in allowed if (value in wanted) != negated]
    if not kept:
        return [
            Fault(
                path,
                "bad-test",
                f"'{name}' is tested for not being any of its values.",
                "Leave one value over, or test something else.",
            )
        ]
    return [{"on": name, "in": sorted(kept)}]


def value_faults(name: str, wanted: list[Any], allowed: tuple[str, ...], path: Path) -> list[Fault]:
    """Return a fault for each wanted value that is a number or is not among the allowed ones."""
    faults = []
    for value in wanted:
        if not isinstance(value, str):
            faults.append(
                Fault(
                    path,
                    "unquoted-number",
                    f"'{value}' is a number, and '{name}' has labels.",
                    listed(allowed, "Its values:"),
                )
            )
        elif value not in allowed:
            faults.append(
                Fault(
                    path,
                    "unknown-value",
                    f"'{value}' is not a value of '{name}'.",
                    listed(allowed, "Its values:"),
                    near_match(value, allowed),
                )
            )
    return faults


def _compared(
    index: Index, names: dict[str, str], name: str, what: Variable, test: dict[str, Any], path: Path
) -> list[Normal | Fault]:
    if len(test) > 1:
        return [
            Fault(
                path,
                "bad-test",
                f"'{name}' is tested in two ways at once.",
                "Write one of not, same_as and differs_from.",
            )
        ]
    ((how, other),) = test.items()
    second = variable(index, names, other, path + (how,))
    if isinstance(second, Fault):
        return [second]
    if "number" in (what.type, second.type) or "fitted" in (what.type, second.type):
        return [
            Fault(
                path,
                "bad-test",
                f"'{name}' is compared with '{other}' by {how}.",
                "Only attributes with values or identities are; compare numbers with at_least, at_most, above or below.",
            )
        ]
    if what.type != second.type:
        return [
            Fault(
                path,
                "bad-test",
                f"'{name}' has {what.type} and '{other}' has {second.type}.",
                "Only like is compared with like.",
            )
        ]
    if name == other:
        return [Fault(path, "bad-test", f"'{name}' is compared with itself.", "Name another attribute.")]
    return [{"on": name, "same_as": other, "is": how == "same_as"}]


def _limits(
    index: Index, names: dict[str, str], name: str, what: Variable, test: dict[str, Any], path: Path
) -> list[Normal | Fault]:
    if what.type != "number":
        return [Fault(path, "bad-test", f"'{name}' has no number to hold against a limit.", "Name values instead.")]
    extra = [key for key in test if key not in LIMITS]
    if extra or {"at_least", "above"} <= set(test) or {"at_most", "below"} <= set(test):
        return [
            Fault(
                path,
                "bad-test",
                f"'{name}' is tested with {' and '.join(sorted(test))} at once.",
                "Write one of at_least and above, one of at_most and below, and nothing else.",
            )
        ]
    found: list[Normal | Fault] = []
    for key, limit in sorted(test.items()):
        if isinstance(limit, str):
            other = variable(index, names, limit, path + (key,))
            if isinstance(other, Fault):
                found.append(other)
            elif other.type != "number" or limit == name:
                found.append(
                    Fault(
                        path + (key,),
                        "bad-test",
                        f"'{limit}' is no limit for '{name}'.",
                        "Write a number, or another attribute or sum that is one.",
                    )
                )
    if found:
        return found
    low, high = test.get("at_least", test.get("above")), test.get("at_most", test.get("below"))
    if isinstance(low, (int, float)) and isinstance(high, (int, float)):
        if low > high or (low == high and ("above" in test or "below" in test)):
            return [
                Fault(
                    path,
                    "bad-test",
                    f"'{name}' is tested between {low} and {high}, where nothing lies.",
                    "Put the lower limit first.",
                )
            ]
    return [_band(name, low, "above" in test, high, "below" in test)]


def _band(name: str, low: Any, low_open: bool, high: Any, high_open: bool) -> Normal:
    return {"on": name, "low": low, "low_open": low_open, "high": high, "high_open": high_open}


def read_names(test: Normal) -> list[str]:
    """Return the names a normal test reads: variables, or the slots of a relation."""
    if "relation" in test:
        return list(test["of"])
    return [
        name for name in (test["on"], test.get("same_as"), test.get("low"), test.get("high")) if isinstance(name, str)
    ]
