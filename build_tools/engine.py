"""Asks the engine, which is imported only when somebody wants an answer."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

Ask = Callable[[dict[str, Any]], dict[str, Any]]
AskText = Callable[[dict[str, Any]], str]


class NoEngine(Exception):
    """The engine is not there; the message says what was looked for."""


class NotAnswered(Exception):
    """The engine refused the build or the book; the message is its own."""


def engine_for(book_text: str) -> AskText:
    """Return a function from a build to the text of its answer; raises `NoEngine` when there is no engine.

    The function raises `NotAnswered` for a build that the engine cannot read.
    """
    try:
        from wizard.engine import BookError, BuildError, answer, load
    except ImportError as error:
        raise NoEngine(f"The engine cannot be loaded: {error}.") from None
    try:
        loaded = load(book_text)
    except BookError as error:
        raise NoEngine(str(error)) from None

    def ask(build: dict[str, Any]) -> str:
        try:
            return answer(loaded, json.dumps(build, sort_keys=True))
        except BuildError as error:
            raise NotAnswered(str(error)) from None

    return ask


def asker(book_text: str) -> Ask:
    """Return a function from a build to its answer as plain values; raises as `engine_for` does."""
    ask = engine_for(book_text)
    return lambda build: json.loads(ask(build))
