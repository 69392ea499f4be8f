"""Small wrong changes to the engine's source and to the rules of a book, each with words for what was changed."""

from __future__ import annotations

import ast
import copy
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

Json = dict[str, Any]
OTHERS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}
TWINS = {"any": "all", "all": "any", "min": "max", "max": "min"}
BITS: dict[type[ast.operator], type[ast.operator]] = {
    ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd, ast.Add: ast.Sub, ast.Sub: ast.Add,
}
VERDICTS = ("works", "works-with-additions", "cannot-tell", "will-not-work")


class Mutant(NamedTuple):
    """One change to a source: in which function, what is done, to which words, to which node in the order of a walk."""

    where: str
    operator: str
    words: str
    source: str
    place: int

    @property
    def name(self) -> str:
        """Name the mutant in a way that outlives a shift of lines."""
        return f"{self.where}: {self.operator}: {self.words}"

    @property
    def text(self) -> str:
        """Return the whole changed source."""
        tree = ast.parse(self.source)
        node = list(ast.walk(tree))[self.place]
        if self.operator == "drop a statement":
            _drop(tree, node)
        else:
            _change(node, self.operator)
        return ast.unparse(ast.fix_missing_locations(tree))


class Rules(NamedTuple):
    """One changed rule: which, what was done, the whole new record."""

    rule: str
    operator: str
    record: Json


def engine_mutants(source: str) -> list[Mutant]:
    """Return every mutant of a module that one operator makes in one place; docstrings and hints are left alone."""
    found: list[Mutant] = []
    tree = ast.parse(source)
    homes, holders, hints = _homes(tree), _holders(tree), _hints(tree)
    times: Counter[str] = Counter()
    for place, node in enumerate(ast.walk(tree)):
        if node in hints:
            continue
        for operator in _at(node):
            one = Mutant(homes.get(node, "module"), operator, _words(node, holders.get(node)), source, place)
            times[one.name] += 1
            again = f" ({times[one.name]})" if times[one.name] > 1 else ""
            found.append(one._replace(words=one.words + again))
    return found


def _words(node: ast.AST, holder: ast.AST | None) -> str:
    """Return the source of a node, of a constant together with what it stands in."""
    if isinstance(node, (ast.If, ast.IfExp)):
        node = node.test
    text = " ".join(ast.unparse(node).split())
    if isinstance(node, ast.Constant) and isinstance(holder, (ast.expr, ast.keyword, ast.Return, ast.Assign)):
        return f"{text} in {' '.join(ast.unparse(holder).split())[:70]}"
    return text[:70]


def _homes(tree: ast.Module) -> dict[ast.AST, str]:
    """Return, per node, the innermost function that holds it."""
    found: dict[ast.AST, str] = {}
    for function in (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)):
        found |= {node: function.name for node in ast.walk(function)}
    return found


def _holders(tree: ast.Module) -> dict[ast.AST, ast.AST]:
    return {inner: node for node in ast.walk(tree) for inner in ast.iter_child_nodes(node)}


def _hints(tree: ast.Module) -> set[ast.AST]:
    """Return all nodes of annotations and of names for types, which no run reads."""
    found: set[ast.AST] = set()
    for node in ast.walk(tree):
        hints = [getattr(node, "annotation", None), getattr(node, "returns", None)]
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Subscript) and node in tree.body:
            hints.append(node.value)
        for hint in filter(None, hints):
            found |= set(ast.walk(hint))
    return found


def _at(node: ast.AST) -> Iterator[str]:
    """Yield the operators that can act on a node."""
    if isinstance(node, ast.Compare) and len(node.ops) == 1 and type(node.ops[0]) in OTHERS:
        yield "swap a comparison"
    if isinstance(node, ast.BoolOp):
        yield "swap and with or"
    if isinstance(node, (ast.If, ast.IfExp)):
        yield "negate a condition"
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        if node.func.id in TWINS:
            yield f"swap {node.func.id} with {TWINS[node.func.id]}"
        if node.func.id == "propagate":
            yield "drop a propagation"
    if isinstance(node, ast.BinOp) and type(node.op) in BITS:
        yield "swap an operator of bits or numbers"
    if isinstance(node, ast.Constant) and type(node.value) is int and node.value in (0, 1, 2):
        yield "be off by one"
    if isinstance(node, ast.Constant) and type(node.value) is bool:
        yield "swap true with false"
    if isinstance(node, ast.comprehension) and node.ifs:
        yield "drop a filter"
    if isinstance(node, ast.Return) and isinstance(node.value, ast.Constant) and node.value.value is None:
        yield "swap true with false"
    if isinstance(node, (ast.AugAssign, ast.Expr)) and not _is_text(node):
        yield "drop a statement"


def _is_text(node: ast.stmt) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _change(node: Any, operator: str) -> None:
    """Do to a node what the operator says."""
    if operator == "swap a comparison":
        node.ops[0] = OTHERS[type(node.ops[0])]()
    elif operator == "swap and with or":
        node.op = ast.Or() if isinstance(node.op, ast.And) else ast.And()
    elif operator == "negate a condition":
        node.test = ast.UnaryOp(ast.Not(), node.test)
    elif operator == "drop a propagation":
        node.func, node.args, node.keywords = ast.Name("bool", ast.Load()), [ast.Constant(1)], []
    elif operator.startswith("swap") and isinstance(node, ast.Call):
        node.func.id = TWINS[node.func.id]
    elif operator == "swap an operator of bits or numbers":
        node.op = BITS[type(node.op)]()
    elif operator == "be off by one":
        node.value += 1
    elif operator == "swap true with false":
        node.value = ast.Constant(True) if isinstance(node, ast.Return) else not node.value
    elif operator == "drop a filter":
        node.ifs = node.ifs[1:]


def _drop(tree: ast.Module, gone: ast.AST) -> None:
    """Put `pass` in place of a statement."""
    for node in ast.walk(tree):
        for field in ("body", "orelse"):
            block = getattr(node, field, None)
            if isinstance(block, list) and gone in block:
                block[block.index(gone)] = ast.Pass()


def rule_mutants(rule: Json, exact: Callable[[str], bool] = lambda name: True) -> list[Rules]:
    """Return every mutant of one rule of a book; `exact` says whether a number can be told to be just at a limit."""
    found: list[Rules] = []

    def add(operator: str, record: Json) -> None:
        if record != rule:
            found.append(Rules(rule["id"], operator, record))

    cases = rule["cases"]
    for n, case in enumerate(cases[:-1]):
        add(f"drop the case {case['case']}", {**rule, "cases": cases[:n] + cases[n + 1:]})
        if n + 2 < len(cases):
            add(f"move the case {case['case']} behind the next",
                {**rule, "cases": cases[:n] + [cases[n + 1], case] + cases[n + 2:]})
        if case["verdict"] in VERDICTS:
            other = VERDICTS[(VERDICTS.index(case["verdict"]) + 2) % 4]
            changed = {**case, "verdict": other, "additions": []} if other != "works-with-additions" else case
            add(f"give the case {case['case']} the verdict {other}", {**rule, "cases": cases[:n] + [changed] + cases[n + 1:]})
        for k, row in enumerate(case["when"]):
            place = f"row {k + 1} of {case['case']}" if len(case["when"]) > 1 else case["case"]
            if len(case["when"]) > 1:
                add(f"drop {place}", _with_case(rule, n, case["when"][:k] + case["when"][k + 1:]))
            for j, test in enumerate(row):
                what = test.get("on") or f"{test['relation']} {' '.join(test['of'])}"
                if len(row) > 1:
                    add(f"drop the test of {what} in {place}", _with_test(rule, n, k, j, None))
                for operator, new in _changed_tests(test, exact):
                    add(f"{operator} of {what} in {place}", _with_test(rule, n, k, j, new))
    return found


def _changed_tests(test: Json, exact: Callable[[str], bool]) -> Iterator[tuple[str, Json]]:
    if "low" in test:
        for end in ("low", "high"):
            if test[end] is not None and exact(test["on"]):
                yield f"turn the {end} limit open or closed", {**test, f"{end}_open": not test[f"{end}_open"]}
            if isinstance(test[end], (int, float)):
                yield f"shift the {end} limit", {**test, end: test[end] + max(1, abs(test[end]) * 0.1)}
    elif test.get("is") in (True, False):
        yield "negate a sameness", {**test, "is": not test["is"]}
    elif "relation" in test:
        yield "negate a relation", {**test, "is": "no" if test["is"] == "yes" else "yes"}
    elif len(test["in"]) > 1:
        yield "drop a value", {**test, "in": test["in"][1:]}


def _with_case(rule: Json, n: int, when: list[Any]) -> Json:
    new = copy.deepcopy(rule)
    new["cases"][n]["when"] = when
    return new


def _with_test(rule: Json, n: int, row: int, place: int, test: Json | None) -> Json:
    new = copy.deepcopy(rule)
    tests = new["cases"][n]["when"][row]
    tests[place:place + 1] = [] if test is None else [test]
    return new
