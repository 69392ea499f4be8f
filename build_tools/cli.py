"""The command line of Donorbook."""

from __future__ import annotations

import argparse
import importlib
import sys
from collections.abc import Sequence
from typing import NoReturn

from build_tools import VERSION
from build_tools.commands.common import BAD_INPUT, Refused

STATUSES = """exit status:
  0  done, and nothing was wrong
  1  there are problems in the facts; each is printed with its file and line
  2  the command, a file or an input cannot be used; one line says why
"""


class Parser(argparse.ArgumentParser):
    """A parser that says what is wrong in one line."""

    def error(self, message: str) -> NoReturn:
        """Print one line and leave with status 2."""
        self.exit(BAD_INPUT, f"{self.prog}: {message}. Run '{self.prog} --help' for what it takes.\n")


def parser() -> Parser:
    """Return the parser of the whole command line."""
    layout = {"formatter_class": argparse.RawDescriptionHelpFormatter, "epilog": STATUSES}
    top = Parser(
        prog="donorbook", description="Check the facts, build the site, and answer which parts work together.", **layout
    )
    top.add_argument("--version", action="version", version=f"donorbook {VERSION}")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)

    def add(name: str, short: str, long: str) -> argparse.ArgumentParser:
        command = commands.add_parser(name, help=short, description=long, **layout)
        command.add_argument(
            "--facts",
            action="append",
            metavar="DIR",
            help="read this folder of facts in place of the configured ones; may be given several times",
        )
        return command

    add(
        "check",
        "name every problem in the facts",
        "Read all facts and print every problem: file, line, what is wrong, what is allowed.",
    )
    add("build", "build the site", "Check the facts, work out the answers, write the pages and build the site.")
    serve = add(
        "serve",
        "build the site and serve it here",
        "Build the site, serve it on this machine and print the address. Stop with Ctrl+C.",
    )
    serve.add_argument("--port", type=_port, metavar="N", help="the port to serve on; else the first free one")
    serve.add_argument("--as-it-is", action="store_true", help="serve what was built before, without building again")
    answer = add(
        "answer",
        "answer a build written in a file",
        "Answer a build: what somebody says they have, written in YAML or JSON.",
    )
    answer.add_argument("build", metavar="BUILD.yaml", help="the file, or - for standard input")
    answer.add_argument("--json", action="store_true", help="print the answer as JSON, as the site gets it")
    answer.add_argument("--why", action="store_true", help="print the whole argument: facts, rules, cases and sources")
    compare = add(
        "compare",
        "say what differs between two builds",
        "Answer two builds and say what differs: verdict, reasons, additions, questions, stops and sums.",
    )
    compare.add_argument("before", metavar="A.yaml", help="the first build, or - for standard input")
    compare.add_argument("after", metavar="B.yaml", help="the second build")
    compare.add_argument("--json", action="store_true", help="print the difference as JSON")
    thin = add(
        "coverage",
        "show where the facts are thin",
        "Show what cannot be found out or is half said, what few parts are listed for, how strong the sources are, and what was checked longest ago.",
    )
    thin.add_argument("--json", action="store_true", help="print the report as one JSON object")
    sums = add("sum", "work out one calculation", "Work out one calculation. Without a name, list them all.")
    sums.add_argument("name", nargs="?", metavar="NAME", help="the calculation")
    sums.add_argument("inputs", nargs="*", metavar="INPUT=VALUE", help="its inputs, a unit may follow the number")
    sums.add_argument("--json", action="store_true", help="print the result as JSON")
    return top


def _port(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 0 < int(text) < 65536:
        raise argparse.ArgumentTypeError(f"'{text}' is not a port; use a number from 1 to 65535")
    return int(text)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status; never shows a traceback for bad input."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8")
    top = parser()
    options = top.parse_args(arguments)
    if options.command is None:
        top.print_help(sys.stderr)
        return BAD_INPUT
    try:
        return importlib.import_module(f"build_tools.commands.{options.command}").run(options)
    except Refused as stop:
        sys.stderr.write(f"donorbook {options.command}: {stop}\n")
        return stop.status
    except KeyboardInterrupt:
        return 130
