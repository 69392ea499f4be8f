"""The oracle's own arithmetic for the sums a book may name."""

from __future__ import annotations

from typing import Callable

FUNCTIONS: dict[str, Callable[..., float]] = {}
