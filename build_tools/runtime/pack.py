"""Runs inside the browser's Python under Node, never in CPython: compiles sources into an archive.

Only the runtime's own compiler makes byte code that the runtime will load.
Entries are stored, not deflated, so that the web server's brotli sees plain bytes;
names are sorted and dates fixed, so that the same sources give the same archive.
"""

import ast
import importlib
import io
import sys
import zipfile
from importlib import _bootstrap_external
from importlib.util import source_hash
from types import CodeType

FIXED_DATE = (1980, 1, 1, 0, 0, 0)


UNITS_IN_ENTRY = 8
NO_COLUMNS = 13
"""Of the interpreter's location table: most code units in one entry, and the kind of entry without columns."""


def compiled(name: str, source: bytes, optimize: int) -> bytes:
    """Return lean byte code of a source as a file that is never checked against its source."""
    tree = without_hints(without_docstrings(ast.parse(source, name)))
    code = with_first_lines(compile(tree, name, "exec", dont_inherit=True, optimize=optimize))
    return bytes(_bootstrap_external._code_to_hash_pyc(code, source_hash(source), False))


def without_docstrings(tree: ast.Module) -> ast.Module:
    """Return the tree with its docstrings taken out; asserts stay, which `optimize=2` would take as well."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            if ast.get_docstring(node, clean=False) is not None:
                node.body = node.body[1:] or [ast.copy_location(ast.Pass(), node.body[0])]
    return tree


def without_hints(tree: ast.Module) -> ast.Module:
    """Return the tree with the type hints of functions taken out; those of records stay, which are made of them."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            node.returns = None
            every = node.args
            for one in (*every.posonlyargs, *every.args, *every.kwonlyargs, every.vararg, every.kwarg):
                if one is not None:
                    one.annotation = None
    return tree


def with_first_lines(code: CodeType) -> CodeType:
    """Return the code with every instruction placed on its function's first line.

    Exact places are half of an archive's bytes over the wire; an error still names file, function and that line.
    """
    units = len(code.co_code) // 2
    table = bytearray()
    for start in range(0, units, UNITS_IN_ENTRY):
        length = min(UNITS_IN_ENTRY, units - start)
        table += bytes((0x80 | NO_COLUMNS << 3 | length - 1, 0))
    inner = tuple(with_first_lines(part) if isinstance(part, CodeType) else part for part in code.co_consts)
    return code.replace(co_linetable=bytes(table), co_consts=inner)


def archive(sources: dict[str, bytes], optimize: int) -> bytes:
    """Return a zip of the compiled sources; raises SyntaxError naming the file that does not compile."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_STORED) as writer:
        for name in sorted(sources):
            entry = zipfile.ZipInfo(name + "c", FIXED_DATE)
            entry.create_system = 3
            entry.external_attr = 0o644 << 16
            writer.writestr(entry, compiled(name, sources[name], optimize))
    return held.getvalue()


def modules_in_use(library: str) -> list[str]:
    """Return the names, inside the library archive, of the sources that are loaded now."""
    used = set()
    for module in list(sys.modules.values()):
        spec = getattr(module, "__spec__", None)
        place = getattr(spec, "origin", None) or ""
        if place.startswith(library + "/"):
            used.add(place[len(library) + 1 :])
    return sorted(used)


def trimmed_library(library: str, wanted: list[str]) -> bytes:
    """Return an archive of what boot, bridge and the wanted modules load, without asserts."""
    for name in wanted:
        importlib.import_module(name)
    names = [name for name in modules_in_use(library) if name.endswith(".py")]
    with zipfile.ZipFile(library) as whole:
        sources = {name: whole.read(name) for name in names}
    return archive(sources, optimize=2)
