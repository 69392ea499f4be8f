"""donorbook compare: says what differs between the answers to two builds."""

from __future__ import annotations

import json
from argparse import Namespace

from build_tools.build_file import read_build_file
from build_tools.commands.answer import read_text
from build_tools.commands.common import BAD_INPUT, OK, Refused, print_lines, sound_facts
from build_tools.compare_text import compare_text
from build_tools.compile import book_text, compile_book
from build_tools.engine import NoEngine, NotAnswered, engine_for
from build_tools.problems import printed
from wizard.engine import compare


def run(options: Namespace) -> int:
    """Print what differs, as text or as JSON; return 2 when a build cannot be read."""
    if options.before == options.after == "-":
        raise Refused("only one of the two builds can come from standard input.")
    facts = sound_facts(options)
    builds = [read_build_file(facts, *read_text(name)) for name in (options.before, options.after)]
    problems = [problem for read in builds for problem in read.problems]
    if problems:
        print_lines((printed(problem) for problem in problems), error=True)
        return BAD_INPUT
    try:
        ask = engine_for(book_text(compile_book(facts)))
        difference = compare(*(ask(read.build) for read in builds))
    except (NoEngine, NotAnswered) as error:
        raise Refused(str(error)) from None
    print_lines([difference if options.json else compare_text(json.loads(difference))])
    return OK
