"""Writes docs/mechanisms.md: `python -m build_tools.mechanisms`."""

from __future__ import annotations

import sys

from build_tools.config import ROOT, configured_layers
from build_tools.mechanisms.table import page, problems
from build_tools.problems import Problem, printed
from build_tools.records import gather


def main() -> int:
    """Write the page, or print what does not fit together and return 1."""
    layers = configured_layers()
    if isinstance(layers, Problem):
        print(printed(layers))
        return 1
    facts = gather(layers)
    wrong = problems(facts)
    print("\n".join(wrong), end="\n" if wrong else "")
    if not wrong:
        (ROOT / "docs" / "mechanisms.md").write_text(page(facts), encoding="utf-8")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
