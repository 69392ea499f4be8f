"""Takes the examples out of the guide for people who write facts, and lays them out as a layer."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
GUIDE = ROOT / "facts" / "README.md"


def guide_examples() -> dict[str, str]:
    """Return the text of each example by the file name in its first line."""
    blocks = re.findall(r"^```yaml\n# (\S+\.yaml)\n(.*?)^```", GUIDE.read_text("utf-8"), re.MULTILINE | re.DOTALL)
    return dict(blocks)


def lay_out(folder: Path) -> Path:
    """Write the examples as a layer and return its folder."""
    for name, text in guide_examples().items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, "utf-8")
    return folder
