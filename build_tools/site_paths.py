"""Where the site's sources and the site itself lie, as the site file says."""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

from build_tools.config import ROOT, SITE_FILE


class SitePaths(NamedTuple):
    """The folder of the generated Markdown, and the folder of the finished site."""

    pages: Path
    site: Path


def site_paths(root: Path = ROOT) -> SitePaths:
    """Return the two folders; MkDocs' own defaults where the site file names none."""
    text = (root / SITE_FILE).read_text(encoding="utf-8")
    found = dict(re.findall(r"^(docs_dir|site_dir):[ ]*['\"]?([^'\"\n#]+?)['\"]?[ ]*(?:#.*)?$", text, re.MULTILINE))
    return SitePaths(root / found.get("docs_dir", "docs"), root / found.get("site_dir", "site"))
