"""The oracles share nothing with the engine: only what compares the two may import it."""

from __future__ import annotations

import ast
from pathlib import Path

FOLDER = Path(__file__).parent
MAY_COMPARE = {"compare.py", "small_run.py", "real_run.py", "soak.py", "exact.py"}


def imports(path: Path) -> set[str]:
    """Return every module a source imports."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add(node.module or "")
    return found


def test_no_oracle_imports_the_engine_or_the_build_tools() -> None:
    oracles = [path for path in sorted(FOLDER.glob("*.py"))
               if not path.name.startswith("test_") and path.name not in MAY_COMPARE]
    wrong = {path.name: sorted(name for name in imports(path) if name.startswith(("wizard.engine", "build_tools")))
             for path in oracles}

    assert len(oracles) > 15
    assert {name: some for name, some in wrong.items() if some} == {}


def test_the_module_that_compares_does_import_the_engine() -> None:
    assert "wizard.engine" in imports(FOLDER / "compare.py")


def test_clingo_and_python_sat_are_kept_apart() -> None:
    assert not any(name.startswith("pysat") for name in imports(FOLDER / "asp.py") | imports(FOLDER / "asp_text.py"))
    assert not any(name.startswith("clingo") for name in imports(FOLDER / "sat.py"))
