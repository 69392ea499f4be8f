"""donorbook check: names every problem in the facts."""

from __future__ import annotations

from argparse import Namespace
from datetime import date

from build_tools.checks import check_facts
from build_tools.commands.common import OK, PROBLEMS, counted, print_lines, read_facts
from build_tools.problems import printed


def run(options: Namespace) -> int:
    """Print each problem on a line and a count at the end; return 1 when there is one."""
    facts = read_facts(options)
    problems = check_facts(facts, date.today())
    gaps = f", {counted(len(facts.gaps), 'known gap')}" if facts.gaps else ""
    summary = f"{counted(len(facts.records), 'record')} in {counted(len(facts.layers), 'layer')}, {counted(len(problems), 'problem')}{gaps}."
    print_lines([*(printed(problem) for problem in problems), summary])
    return PROBLEMS if problems else OK
