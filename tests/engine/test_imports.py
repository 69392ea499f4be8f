"""The engine stays pure: what it imports, what it calls and what its sentences hold, read from its source."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

WIZARD = Path(__file__).resolve().parents[2] / "wizard"
PURE = sorted([*(WIZARD / "engine").glob("**/*.py"), *(WIZARD / "sums").glob("**/*.py")])
ALL = sorted(WIZARD.glob("**/*.py"))
STANDARD = {"__future__", "json", "math", "functools", "itertools", "typing", "collections", "collections.abc", "re",
            "dataclasses", "enum", "heapq", "bisect", "operator"}
ONLY_IN_ADDRESS = {"urllib.parse"}
OUTSIDE = {"open", "exec", "eval", "compile", "__import__", "input", "print", "breakpoint", "globals", "hash", "id"}
MARKUP = re.compile(r"</?[a-z][a-z0-9]*(\s[^<>]*)?/?>|^#{1,6} |\*\*\w|\]\(|`", re.MULTILINE)


def imported(tree: ast.AST, package: str) -> Iterator[str]:
    """Yield the full name of every module a source imports; relative ones resolved in its package."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package.split(".")[:len(package.split(".")) - node.level + 1] if node.level else []
            yield ".".join([*base, *([node.module] if node.module else [])])


def foreign(source: str, path: str, package: str) -> list[str]:
    """Return what a pure module may not import or call, as `path: name`."""
    tree = ast.parse(source)
    allowed = STANDARD | (ONLY_IN_ADDRESS if Path(path).stem.startswith("address") else set())
    wrong = [name for name in imported(tree, package)
             if name not in allowed and not name.startswith(("wizard.engine", "wizard.sums"))]
    wrong += [node.func.id for node in ast.walk(tree)
              if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in OUTSIDE]
    return [f"{path}: {name}" for name in wrong]


def markup(source: str, path: str) -> list[str]:
    """Return each text of a module, docstrings apart, that holds HTML or Markdown."""
    tree = ast.parse(source)
    docs = {id(node.body[0].value) for node in ast.walk(tree)
            if isinstance(node, (ast.Module, ast.FunctionDef, ast.ClassDef)) and node.body
            and isinstance(node.body[0], ast.Expr)}
    return [f"{path}:{node.lineno}: {node.value}" for node in ast.walk(tree)
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs
            and MARKUP.search(node.value)]


def _package(path: Path) -> str:
    return ".".join(path.parent.relative_to(WIZARD.parent).parts)


@pytest.mark.parametrize("path", PURE, ids=lambda path: str(path.relative_to(WIZARD)))
def test_a_module_of_the_engine_or_the_sums_imports_and_calls_only_what_is_named(path: Path) -> None:
    assert foreign(path.read_text(encoding="utf-8"), path.name, _package(path)) == []


@pytest.mark.parametrize("path", [p for p in PURE if "engine" in p.parts], ids=lambda path: path.name)
def test_no_text_of_the_engine_holds_html_or_markdown(path: Path) -> None:
    assert markup(path.read_text(encoding="utf-8"), path.name) == []


def test_nothing_in_the_wizard_imports_the_build_tools_or_the_tests() -> None:
    names = {path: set(imported(ast.parse(path.read_text(encoding="utf-8")), _package(path))) for path in ALL}
    wrong = [f"{path}: {name}" for path, some in names.items() for name in sorted(some)
             if name.split(".")[0] in ("build_tools", "tests")]

    assert len(ALL) > 10
    assert wrong == []


@pytest.mark.parametrize(("source", "found"), [
    ("import time", "time"), ("from random import random", "random"), ("import os.path", "os.path"),
    ("from urllib.parse import quote", "urllib.parse"), ("from build_tools import compile", "build_tools"),
    ("open('facts.yaml')", "open"), ("from ...tests import oracle", "tests"), ("hash('a')", "hash"),
])
def test_a_module_that_reaches_outside_is_found(source: str, found: str) -> None:
    assert foreign(source, "space.py", "wizard.engine") == [f"space.py: {found}"]


def test_only_the_address_may_quote_addresses() -> None:
    assert foreign("from urllib.parse import quote", "address.py", "wizard.engine") == []


@pytest.mark.parametrize("text", ["a <b>bold</b> word", "# A heading", "a **bold** word", "see [here](x)", "`code`"])
def test_html_or_markdown_in_a_text_is_found(text: str) -> None:
    assert markup(f"TEXT = {text!r}", "wording.py") != []


@pytest.mark.parametrize("text", ["at most 5 < 6 and 7 > 6", "slot.attribute", "pins [1, 2]", "3 * 4 = 12"])
def test_a_plain_sentence_is_not_taken_for_markup(text: str) -> None:
    assert markup(f"TEXT = {text!r}", "wording.py") == []
