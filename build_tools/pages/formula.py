"""Sets the formula of a sum, which is written on one line, as MathML: fractions, powers and roots as a book prints them."""

from __future__ import annotations

import re
from html import escape
from typing import NamedTuple

TOKEN = re.compile(r"\s*(?:(?P<number>\d{1,3}(?: \d{3})+(?:\.\d+)?(?![\d])|\d+(?:\.\d+)?)(?![^\s×÷+−^()√²])|(?P<sign>[×÷+−^()√²])|(?P<words>[^×÷+−^()√²]+))")
LEADS = ("the next rating up from", "the next listed size up from", "the section whose ohms per km are", "the larger of")
Node = tuple


class Line(NamedTuple):
    """One line of a formula: the name it gives, if any, and what it is, as a tree."""

    name: str
    tree: Node


def lines(formula: str) -> list[Line]:
    """Return the formula line by line: the result first, then what its own names stand for.

    A tree is ("number", text), ("words", text), ("group", tree), ("root", tree), ("power", tree, tree), ("chain", [(× or ÷, tree)]),
    ("total", [(+ or −, tree)]) or ("row", [trees]) for prose with a reckoning in it. Raises ValueError for unbalanced brackets.
    """
    found: list[Line] = []
    for place, text in enumerate(_statements(formula.replace(" - ", " − "))):
        name, mark, rest = text.partition(" = ")
        if place and not mark and not re.search("[×÷+−√^²]", text):
            found[-1] = found[-1]._replace(tree=("row", [found[-1].tree, ("words", f", {text}")]))
        else:
            found.append(Line(name if mark else "", _prose(rest if mark else text)))
    return found


def is_prose(formula: str) -> bool:
    """Return whether there is nothing to set: the formula is a sentence without a sign."""
    return not re.search("[×÷√^²]| [-+] ", formula)


def mathml(formula: str) -> str:
    """Return the formula as MathML, one `math` element a line."""
    rows = []
    for place, line in enumerate(lines(formula)):
        head = f"{_words(line.name)}<mo>=</mo>" if line.name else ""
        where = "<mtext>where&#160;</mtext>" if place else ""
        rows.append(f'<math display="block"><mrow>{where}{head}{_shown(line.tree)}</mrow></math>')
    return "".join(rows)


def _statements(text: str) -> list[str]:
    found, depth, begun = [], 0, 0
    for place, sign in enumerate(text):
        depth += {"(": 1, ")": -1}.get(sign, 0)
        if depth == 0 and (sign == ";" or text[place:place + 2] == ", "):
            found.append(text[begun:place].strip())
            begun = place + 1
    return [*found, text[begun:].strip()]


def _prose(text: str) -> Node:
    lead = next((lead for lead in LEADS if text.startswith(lead)), None)
    if lead is None:
        return _tree(text)
    parts: list[Node] = [("words", f"{lead} ")]
    for place, piece in enumerate(text[len(lead):].split(" and ")):
        parts += ([("words", " and ")] if place else []) + [_tree(piece)]
    return ("row", parts)


def _tree(text: str) -> Node:
    tokens = [(found.lastgroup or "", (found[found.lastgroup or 0]).strip()) for found in TOKEN.finditer(text.strip())]
    tree, rest = _total(tokens)
    if rest:
        raise ValueError(f"{rest[0][1]!r} is left over in {text!r}")
    return tree


Tokens = list[tuple[str, str]]


def _total(tokens: Tokens) -> tuple[Node, Tokens]:
    return _joined(tokens, "+−", "total", _chain)


def _chain(tokens: Tokens) -> tuple[Node, Tokens]:
    return _joined(tokens, "×÷", "chain", _power)


def _joined(tokens: Tokens, signs: str, name: str, inner) -> tuple[Node, Tokens]:
    first, tokens = inner(tokens)
    parts = [(signs[0], first)]
    while tokens and tokens[0][1] in signs:
        sign = tokens[0][1]
        part, tokens = inner(tokens[1:])
        parts.append((sign, part))
    return (first if len(parts) == 1 else (name, parts)), tokens


def _power(tokens: Tokens) -> tuple[Node, Tokens]:
    base, tokens = _atom(tokens)
    while tokens and tokens[0][1] in ("^", "²"):
        raised, tokens = (("number", "2"), tokens[1:]) if tokens[0][1] == "²" else _atom(tokens[1:])
        base = ("power", base, raised)
    return base, tokens


def _atom(tokens: Tokens) -> tuple[Node, Tokens]:
    if not tokens:
        raise ValueError("the formula ends too early")
    (sort, text), rest = tokens[0], tokens[1:]
    if text == "√":
        inner, rest = _atom(rest)
        return ("root", inner[1] if inner[0] == "group" else inner), rest
    if text == "(":
        inner, rest = _total(rest)
        if not rest or rest[0][1] != ")":
            raise ValueError("a bracket is not closed")
        return ("group", inner), rest[1:]
    if sort == "sign":
        raise ValueError(f"{text!r} stands where a number or a name should")
    if sort == "number" and rest and rest[0][0] == "words":
        return ("words", f"{text} {rest[0][1]}"), rest[1:]
    return (sort, text), rest


def _shown(tree: Node) -> str:
    kind, body = tree[0], tree[1]
    if kind == "number":
        return f"<mn>{body.replace(' ', '&#160;')}</mn>"
    if kind == "words":
        return _words(body)
    if kind == "row":
        return "".join(_shown(part) for part in body)
    if kind == "group":
        return f"<mrow><mo>(</mo>{_shown(body)}<mo>)</mo></mrow>"
    if kind == "root":
        return f"<msqrt>{_shown(body)}</msqrt>"
    if kind == "power":
        return f"<msup>{_one(tree[1])}{_one(_bare(tree[2]))}</msup>"
    if kind == "total":
        return "".join((f"<mo>{sign}</mo>" if place else "") + _shown(_plain_fraction(part)) for place, (sign, part) in enumerate(body))
    return _fractions(body)


def _fractions(parts: list[tuple[str, Node]]) -> str:
    """One fraction where all divisions come last; else each factor over what it is divided by."""
    signs = "".join(sign for sign, _ in parts)
    if re.fullmatch("×+÷+", signs):
        return _fraction([part for sign, part in parts if sign == "×"], [part for sign, part in parts if sign == "÷"])
    factors: list[tuple[Node, list[Node]]] = []
    for sign, part in parts:
        if sign == "×":
            factors.append((part, []))
        else:
            factors[-1][1].append(part)
    return "<mo>×</mo>".join(_fraction([above], below) if below else _shown(_plain_fraction(above)) for above, below in factors)


def _fraction(above: list[Node], below: list[Node]) -> str:
    return f"<mfrac>{_product(above)}{_product(below)}</mfrac>"


def _product(parts: list[Node]) -> str:
    if len(parts) == 1:
        return _one(_bare(parts[0]))
    return f"<mrow>{'<mo>×</mo>'.join(_shown(_plain_fraction(part)) for part in parts)}</mrow>"


def _plain_fraction(tree: Node) -> Node:
    """A bracket around nothing but one fraction needs no drawing: the bar holds it together."""
    if tree[0] == "group" and tree[1][0] == "chain" and re.fullmatch("×+÷+", "".join(sign for sign, _ in tree[1][1])):
        return tree[1]
    return tree


def _bare(tree: Node) -> Node:
    return tree[1] if tree[0] == "group" else tree


def _one(tree: Node) -> str:
    return f"<mrow>{_shown(tree)}</mrow>"


def _words(text: str) -> str:
    kept = escape(text).replace(" ", "&#160;")
    return f"<mi>{kept}</mi>" if len(text) == 1 else f"<mtext>{kept}</mtext>"
