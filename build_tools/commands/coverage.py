"""donorbook coverage: shows how much the facts hold, and where they are thin."""

from __future__ import annotations

from argparse import Namespace

from build_tools.commands.common import OK, print_lines, sound_facts
from build_tools.compile import compile_book
from build_tools.coverage import coverage_lines


def run(options: Namespace) -> int:
    """Print the coverage of facts that have no problems."""
    print_lines(coverage_lines(compile_book(sound_facts(options))))
    return OK
