"""Puts many builds through the engine under this Python; the counterpart of answers.mjs, with the same replies.

Reads {"book": FILE, "messages": [message]} as JSON on standard input; prints the replies as a JSON list.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from wizard.engine import answer, load
from wizard.engine.address import from_address, to_address


def reply(book: Any, message: dict[str, Any]) -> dict[str, Any]:
    """Return what the worker would reply; errors are let through, which fails the run."""
    if message["op"] == "answer":
        return {"id": message["id"], "answer": answer(book, message["build"])}
    if message["op"] == "to_address":
        return {"id": message["id"], "address": to_address(book, json.loads(message["build"]))}
    build, not_used = from_address(book, message["address"])
    return {
        "id": message["id"],
        "build": json.dumps(build, sort_keys=True),
        "not_used": json.dumps([{key: one[key] for key in ("name", "value", "why")} for one in not_used], sort_keys=True),
    }


def main() -> None:
    """Answer every message and print the replies."""
    given = json.loads(sys.stdin.read())
    book = load(Path(given["book"]).read_text("utf-8"))
    print(json.dumps([reply(book, message) for message in given["messages"]]))


if __name__ == "__main__":
    main()
