"""donorbook answer: answers a build that is written in a file."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from pathlib import Path

from build_tools.answer_text import answer_text
from build_tools.build_file import read_build_file
from build_tools.commands.common import BAD_INPUT, OK, Refused, print_lines, sound_facts
from build_tools.compile import book_text, compile_book
from build_tools.engine import NoEngine, NotAnswered, engine_for
from build_tools.problems import printed


def run(options: Namespace) -> int:
    """Print the answer as text, or as the JSON the engine made; return 2 when the build cannot be read."""
    raw, shown = read_text(options.build)
    facts = sound_facts(options)
    read = read_build_file(facts, raw, shown)
    if read.problems:
        print_lines((printed(problem) for problem in read.problems), error=True)
        return BAD_INPUT
    book = compile_book(facts)
    try:
        text = engine_for(book_text(book))(read.build)
    except (NoEngine, NotAnswered) as error:
        raise Refused(str(error)) from None
    print_lines([text if options.json else answer_text(json.loads(text), book["find_out"], why=options.why).rstrip("\n")])
    return OK


def read_text(name: str) -> tuple[bytes, str]:
    """Return a file's bytes (`-` is standard input) and the name to show for it; refuses what cannot be read."""
    if name == "-":
        return sys.stdin.buffer.read(), "standard input"
    try:
        return Path(name).read_bytes(), name
    except OSError as error:
        raise Refused(f"{name} cannot be read: {error.strerror}.") from None
