"""All tests in two processes side by side, because the tests in a browser mostly wait: `python -m tests`.

With arguments it is pytest with these arguments, in one process.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
IN_A_BROWSER = ("browser", "runtime", "site", "test_bundle.py", "test_serve.py")


def halves(folder: Path = HERE) -> tuple[list[str], list[str]]:
    """Return the places of the tests that build a site or start a runtime, and all other places with tests in them."""
    holds = {path.relative_to(folder).parts[0] for path in folder.rglob("test_*.py")}
    first = [name for name in IN_A_BROWSER if name in holds]
    return first, sorted(holds - set(first))


def main(arguments: list[str]) -> int:
    """Run the tests and return pytest's exit status, the worse of the two where there are two."""
    pytest = [sys.executable, "-m", "pytest"]
    seed = arguments[:2] if arguments[:1] == ["--seed"] else []
    if arguments != seed:
        return subprocess.call([*pytest, *arguments])
    first, rest = ([str(HERE / name) for name in half] for half in halves())
    with tempfile.TemporaryFile("w+", encoding="utf-8", errors="replace") as held:
        print("Running all other tests beside those in a browser; what they print comes afterwards.", flush=True)
        other = subprocess.Popen([*pytest, *seed, *rest], stdout=held, stderr=subprocess.STDOUT)
        try:
            status = subprocess.call([*pytest, *seed, *first])
            status = max(status, other.wait())
        finally:
            other.kill()
        held.seek(0)
        print(held.read(), flush=True)
    return status


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
