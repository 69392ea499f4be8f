"""The names of variables that follow from others."""
from __future__ import annotations

from typing import Any

from .model import Book, Instance, bound

NA = "does-not-apply"


def relation_name(test: dict[str, Any], inst: Instance) -> str:
    """The variable of a relation test."""
    return f"{test['relation']} {' + '.join(sorted(bound(n, inst.bind) for n in test['of']))}"


def same_name(a: str, b: str) -> str:
    """The variable that says whether two unlisted identities are one."""
    return f"same {min(a, b)} {max(a, b)}"


def match_name(a: str, b: str) -> str:
    """The variable that says whether two attributes have the same value."""
    return f"match {min(a, b)} {max(a, b)}"


def quantity_name(book: Book, name: str, inst: Instance) -> str:
    """The variable of a number that a rule tests: an attribute, or a sum with its bound inputs."""
    if not name.startswith("sum."):
        return bound(name, inst.bind)
    inputs = [bound(v, inst.bind) for v in book.data["sums"][name[4:]]["inputs"].values()]
    return f"{name} {' '.join(sorted(inputs))}"


def gap_name(book: Book, test: dict[str, Any], limit: str, inst: Instance) -> str:
    """The variable of one quantity less another."""
    return f"{quantity_name(book, test['on'], inst)} - {quantity_name(book, limit, inst)}"
