"""Runs the command line: python -m build_tools."""

import sys

from build_tools.cli import main

sys.exit(main(sys.argv[1:]))
