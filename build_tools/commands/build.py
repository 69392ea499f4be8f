"""donorbook build: makes the whole site."""

from __future__ import annotations

from argparse import Namespace

from build_tools.build import BuildFailed, build_site
from build_tools.commands.common import OK, Refused, print_lines, sound_facts


def run(options: Namespace) -> int:
    """Check, compile, write the pages, build the site and its browser part; say each step and its time."""
    print_lines(["Reading and checking the facts ..."])
    facts = sound_facts(options, thorough=True)
    try:
        build_site(facts, lambda text: print_lines([text]))
    except BuildFailed as error:
        raise Refused(str(error)) from None
    return OK
