"""What the engine says of the worked builds, for holding the page against it."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, NamedTuple

from wizard.engine import answer, compare, load
from wizard.engine.address import to_address


class Engine(NamedTuple):
    """The engine on the site's own book, outside the browser."""

    book: Any
    builds: dict[str, Any]

    def text(self, build: dict[str, Any]) -> str:
        """Return the text of the answer to a build."""
        return answer(self.book, json.dumps(build))

    def answer(self, build: dict[str, Any]) -> dict[str, Any]:
        """Return the answer to a build."""
        return dict(json.loads(self.text(build)))

    def compare(self, before: dict[str, Any], after: dict[str, Any]) -> dict[str, Any]:
        """Return what differs between the answers to two builds."""
        return dict(json.loads(compare(self.text(before), self.text(after))))

    def address(self, build: dict[str, Any]) -> str:
        """Return what follows the `#` for a build."""
        return to_address(self.book, build)

    def worked(self, fits: Callable[[dict[str, Any]], object]) -> dict[str, Any]:
        """Return the first worked build, by id, whose answer fits; raises StopIteration when none does."""
        return next(self.builds[name]["build"] for name in sorted(self.builds) if fits(self.answer(self.builds[name]["build"])))


def engine_of(book: dict[str, Any]) -> Engine:
    """Return the engine with a book loaded."""
    return Engine(load(json.dumps(book)), book["builds"])
