"""What several commands share: reading the facts, and stopping with one clear line."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Iterable
from datetime import date

from build_tools.checks import check_facts, quick_problems
from build_tools.config import configured_layers, named_layers
from build_tools.index import Index, index
from build_tools.problems import Problem, printed
from build_tools.records import Facts, gather

OK, PROBLEMS, BAD_INPUT = 0, 1, 2


class Refused(Exception):
    """The command cannot go on; the message is the one line that says why, `status` the exit status."""

    def __init__(self, message: str, status: int = BAD_INPUT) -> None:
        super().__init__(message)
        self.status = status


def read_facts(options: Namespace) -> Facts:
    """Return the facts of the folders named with --facts, or of the configured ones."""
    layers = named_layers(options.facts) if options.facts else configured_layers()
    if isinstance(layers, Problem):
        raise Refused(printed(layers))
    return gather(layers)


def sound_facts(options: Namespace, thorough: bool = False) -> Index:
    """Return the index of facts that have no problems, or stop with status 1 after naming them."""
    facts = read_facts(options)
    problems = check_facts(facts, date.today()) if thorough else quick_problems(facts, date.today())
    if problems:
        print_lines((printed(problem) for problem in problems), error=True)
        raise Refused(f"{counted(len(problems), 'problem')} in the facts; nothing was done.", PROBLEMS)
    return index(facts)


def counted(number: int, noun: str) -> str:
    """Return the number with its noun: 1 problem, 2 problems."""
    return f"{number} {noun}{'' if number == 1 else 's'}"


def print_lines(lines: Iterable[str], error: bool = False) -> None:
    """Print the lines, quietly giving up when nobody reads them any more."""
    stream = sys.stderr if error else sys.stdout
    try:
        stream.write("".join(f"{line}\n" for line in lines))
        stream.flush()
    except BrokenPipeError:
        sys.stderr.close()
