"""Holds the tree of a file against a shape, keeping plain values and the line of each."""

from __future__ import annotations

from typing import Any

from build_tools.load import Mapping, Node, Scalar, Sequence, reading
from build_tools.problems import listed, near_match
from build_tools.schema import Chosen, Either, Fields, ListOf, MapOf, Shape
from build_tools.schema_scalars import BAD, Outcome, Path, called, null, read_scalar


def read(shape: Shape, node: Node, out: Outcome, path: Path = ()) -> Any:
    """Return the plain value of a node, or BAD after noting in `out` why it has none."""
    out.lines[path] = node.line
    if isinstance(shape, Either):
        return _read_either(shape, node, out, path)
    if isinstance(shape, ListOf):
        return _read_list(shape, node, out, path)
    if isinstance(shape, MapOf):
        return _read_map(shape, node, out, path)
    if isinstance(shape, Fields):
        return _read_fields(shape, node, out, path)
    if isinstance(shape, Chosen):
        return _read_chosen(shape, node, out, path)
    if not isinstance(node, Scalar):
        return _wrong_shape(node, "a single value", out, path)
    return read_scalar(shape, node, out, path)


def _written(node: Node) -> str:
    return {Scalar: "a single value", Sequence: "a list", Mapping: "a mapping"}[type(node)]


def _wrong_shape(node: Node, wanted: str, out: Outcome, path: Path) -> Any:
    if isinstance(node, Scalar) and reading(node) == "null":
        return null(node, out, path)
    got = f"the single value '{node.text}'" if isinstance(node, Scalar) else _written(node)
    return out.say(node.line, "wrong-shape", f"'{called(path)}' is {got}.", f"Write {wanted}.")


def _read_either(shape: Either, node: Node, out: Outcome, path: Path) -> Any:
    options = (
        (Scalar, shape.scalar, "a single value"),
        (Sequence, shape.sequence, "a list"),
        (Mapping, shape.mapping, "a mapping"),
    )
    for kind, inner, _ in options:
        if isinstance(node, kind) and inner is not None:
            return read(inner, node, out, path)
    return _wrong_shape(node, " or ".join(name for _, inner, name in options if inner is not None), out, path)


def _read_list(shape: ListOf, node: Node, out: Outcome, path: Path) -> Any:
    if not isinstance(node, Sequence):
        return _wrong_shape(node, "a list, as in [one, two]", out, path)
    if len(node.items) < shape.least:
        return out.say(
            node.line,
            "wrong-shape",
            f"'{called(path)}' holds {_entries(len(node.items))}.",
            f"At least {shape.least} must be listed; leave the key out if there is none.",
        )
    if shape.exactly and len(node.items) != shape.exactly:
        return out.say(
            node.line,
            "wrong-shape",
            f"'{called(path)}' holds {_entries(len(node.items))}.",
            f"Exactly {shape.exactly} must be listed.",
        )
    values = []
    for number, item in enumerate(node.items):
        value = read(shape.item, item, out, path + (number,))
        if value is not BAD and value in values:
            shown = item.text if isinstance(item, Scalar) else "the same entry"
            out.say(item.line, "said-twice", f"'{called(path)}' lists '{shown}' a second time.", "List it once.")
        elif value is not BAD:
            values.append(value)
    return values


def _stands_alone(key: Scalar, child: Node) -> bool:
    """Tell whether a key is rather the rest of a text that a comma cut off: words without a value."""
    return " " in key.text and isinstance(child, Scalar) and child.plain and not child.text


def _loose_comma(key: Scalar, out: Outcome) -> None:
    out.say(
        key.line,
        "loose-comma",
        f"'{key.text}' stands alone between commas.",
        "Inside braces a comma starts a new entry; put a text that holds a comma in quotes.",
    )


def _entries(number: int) -> str:
    return "1 entry" if number == 1 else f"{number} entries"


def _read_map(shape: MapOf, node: Node, out: Outcome, path: Path) -> Any:
    if not isinstance(node, Mapping):
        return _wrong_shape(node, "a mapping, as in {name: value}", out, path)
    if len(node.pairs) < shape.least:
        return out.say(
            node.line,
            "wrong-shape",
            f"'{called(path)}' holds {_entries(len(node.pairs))}.",
            f"At least {shape.least} must stand here.",
        )
    if shape.exactly and len(node.pairs) != shape.exactly:
        return out.say(
            node.line,
            "wrong-shape",
            f"'{called(path)}' holds {_entries(len(node.pairs))}.",
            f"Exactly {shape.exactly} must stand here.",
        )
    values = {}
    for key, child in node.pairs:
        if _stands_alone(key, child):
            _loose_comma(key, out)
            continue
        name = key.text if key.text in shape.special else read_scalar(shape.key, key, out, path + (key.text,))
        value = read(shape.special.get(key.text, shape.value), child, out, path + (key.text,))
        out.lines[path + (key.text,)] = key.line
        if name is not BAD and value is not BAD:
            values[name] = value
    return values


def _read_fields(shape: Fields, node: Node, out: Outcome, path: Path) -> Any:
    if not isinstance(node, Mapping):
        return _wrong_shape(node, f"a mapping with {', '.join(sorted(shape.keys))}", out, path)
    values: dict[str, Any] = {}
    seen = set()
    for key, child in node.pairs:
        if key.text not in shape.keys and _stands_alone(key, child):
            _loose_comma(key, out)
            continue
        if key.text not in shape.keys:
            out.say(
                key.line,
                "unknown-key",
                f"'{key.text}' is not a key of {shape.what}.",
                listed(shape.keys),
                near_match(key.text, shape.keys),
            )
            continue
        seen.add(key.text)
        value = read(shape.keys[key.text].shape, child, out, path + (key.text,))
        out.lines[path + (key.text,)] = key.line
        if value is not BAD:
            values[key.text] = value
    for name, key in sorted(shape.keys.items()):
        if key.needed and name not in seen:
            out.say(node.line, "missing-key", f"{shape.what[0].upper()}{shape.what[1:]} has no '{name}'.", key.says)
    return values


def _read_chosen(shape: Chosen, node: Node, out: Outcome, path: Path) -> Any:
    if not isinstance(node, Mapping):
        return _wrong_shape(node, f"a mapping with one of {', '.join(sorted(shape.by))}", out, path)
    keys = [key.text for key, _ in node.pairs if key.text in shape.by]
    if len(keys) != 1:
        names = [key.text for key, _ in node.pairs]
        near = next((near for name in names if (near := near_match(name, shape.by))), "")
        said = "none of them" if not keys else " and ".join(f"'{name}'" for name in keys)
        return out.say(
            node.line,
            "missing-key",
            f"{shape.what[0].upper()}{shape.what[1:]} names {said}.",
            listed(shape.by, "Exactly one of these keys is wanted:"),
            near,
        )
    return _read_fields(shape.by[keys[0]], node, out, path)
