"""The answers to the worked builds as files, which the check shows while the part that works out answers still starts."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from build_tools.pages.site import Site

FOLDER = "assets/answers"


def prepared(site: Site) -> Iterator[tuple[str, str]]:
    """Yield path and text of each answer, the very text that the engine gives, then the ids of the builds by address."""
    for name in sorted(site.answers):
        yield f"{FOLDER}/{name}.json", _text(site.answers[name])
    found = {site.address(site.book["builds"][name]["build"]): name for name in sorted(site.answers)}
    yield f"{FOLDER}/index.json", _text(found)


def _text(value: Any) -> str:
    return json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
