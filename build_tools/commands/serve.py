"""donorbook serve: builds the site and serves it on this machine."""

from __future__ import annotations

from argparse import Namespace

from build_tools.commands import build
from build_tools.commands.common import OK, Refused
from build_tools.serve import PortTaken, serve
from build_tools.site_paths import site_paths


def run(options: Namespace) -> int:
    """Build unless told not to, then serve until interrupted."""
    if not options.as_it_is:
        build.run(options)
    try:
        serve(site_paths().site, options.port)
    except (PortTaken, FileNotFoundError) as error:
        raise Refused(str(error)) from None
    return OK
