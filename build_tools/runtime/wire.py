"""What a file weighs over the wire: brotli at its best, remembered by content so it is worked out once."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable
from pathlib import Path

import brotli

QUALITY = 11
WINDOW = 24
SLOW_BYTES = 2_000_000
CACHE = Path(".cache") / "brotli"


def digest(data: bytes) -> str:
    """Return the SHA-256 of the bytes in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def squeezed(data: bytes, name: str, cache: Path, say: Callable[[str], None] = print) -> bytes:
    """Return the bytes as brotli; anything that takes over a second is announced by name first.

    A remembered result is used only when it opens to the same bytes, so a damaged cache costs time, not truth.
    """
    held = cache / f"{digest(data)}.{QUALITY}.br"
    if held.is_file():
        old = held.read_bytes()
        if _opens_to(old, data):
            return old
    started = time.monotonic()
    if len(data) > SLOW_BYTES:
        say(f"  Compressing {name} ({len(data) / 1e6:.1f} MB); this is done once and takes up to half a minute.")
    made = brotli.compress(data, quality=QUALITY, lgwin=WINDOW)
    cache.mkdir(parents=True, exist_ok=True)
    partial = held.with_suffix(".part")
    partial.write_bytes(made)
    partial.replace(held)
    taken = time.monotonic() - started
    if taken > 1:
        say(f"  Compressed {name} in {taken:.0f} s: {len(made) / 1e6:.2f} MB over the wire.")
    return made


def _opens_to(squeezed_bytes: bytes, data: bytes) -> bool:
    try:
        return bool(brotli.decompress(squeezed_bytes) == data)
    except brotli.error:
        return False
