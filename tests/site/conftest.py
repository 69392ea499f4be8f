"""The real site, built once for all tests of this area."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.site.building import built_site
from tests.site.reading import ReadPage, read_site


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the built site; the pages it was built from lie in docs beside it."""
    return built_site(tmp_path_factory.mktemp("real"))


@pytest.fixture(scope="session")
def pages(site: Path) -> dict[str, ReadPage]:
    """Return every page of the real site by its path."""
    return read_site(site)
