"""Prints what each check is for as Markdown: python -m build_tools.checks.document."""

from __future__ import annotations

from build_tools.checks.check_ids import CHECK_IDS


def documentation() -> str:
    """Return a heading and a paragraph for each check, in order of id."""
    return "\n\n".join(f"### {name}\n\n{CHECK_IDS[name]}" for name in sorted(CHECK_IDS)) + "\n"


if __name__ == "__main__":
    print(documentation(), end="")
