"""donorbook coverage: shows how much the facts hold, and where they are thin."""

from __future__ import annotations

import json
from argparse import Namespace

from build_tools.commands.common import OK, print_lines, sound_facts
from build_tools.compile import compile_book
from build_tools.coverage import coverage, coverage_lines


def run(options: Namespace) -> int:
    """Print the coverage of facts that have no problems, as lines or as one object."""
    book = compile_book(sound_facts(options))
    print_lines([json.dumps(coverage(book), indent=1, sort_keys=True, ensure_ascii=False)] if options.json else coverage_lines(book))
    return OK
