"""`python -m bench [NAME...]`: run the measurements that are named, or all of them."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bench import first_verdict, reasoning
from build_tools.site_paths import site_paths

BENCHES = {"first-verdict": first_verdict.run, "reasoning": reasoning.run}


def main(arguments: list[str]) -> int:
    """Run the measurements and return 0, or 1 with words when one cannot be run."""
    parser = argparse.ArgumentParser(prog="python -m bench", description="Measure the built site.")
    parser.add_argument("names", nargs="*", metavar="NAME", help=f"one of: {', '.join(BENCHES)} (all when left out)")
    parser.add_argument("--runs", type=int, default=5, help="new browser profiles for each variant (default 5)")
    parser.add_argument("--site", type=Path, default=site_paths().site, help="the built site")
    options = parser.parse_args(arguments)
    unknown = [name for name in options.names if name not in BENCHES]
    if unknown:
        parser.error(f"no such measurement: {', '.join(unknown)}; there are: {', '.join(BENCHES)}")
    failures = [BENCHES[name](options.site, options.runs) for name in options.names or BENCHES]
    for failure in filter(None, failures):
        print(failure, file=sys.stderr)
    return 1 if any(failures) else 0


sys.exit(main(sys.argv[1:]))
