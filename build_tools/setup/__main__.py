"""`python3 -m build_tools.setup PART...`: bring parts of the set-up; runs before anything is installed."""

import sys

OLDEST = (3, 11)

if sys.version_info < OLDEST:
    sys.exit("Donorbook needs Python 3.11 or newer; this is %d.%d. Run: make PYTHON=python3.11" % sys.version_info[:2])

from build_tools.setup.parts import main  # noqa: E402  (after the version check, so that old Pythons get words)

sys.exit(main(sys.argv[1:]))
