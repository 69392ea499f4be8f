"""A web server for this machine only, which serves a built site the way a good host would: brotli, caching, MIME types."""

from __future__ import annotations

import functools
import re
import socket
from email.utils import formatdate
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from build_tools.runtime.wire import digest

HOST = "127.0.0.1"
FIRST_PORT = 8321
PORTS_TRIED = 20
TYPES = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".xml": "application/xml; charset=utf-8",
    ".zip": "application/zip",
}
SQUEEZED_WORTHWHILE = frozenset(TYPES)
NAMED_BY_CONTENT = re.compile(r"-[0-9a-f]{12}(?=[./])|\.[0-9a-f]{8}\.min\.")
QUICK_QUALITY = 5


class PortTaken(Exception):
    """No port could be opened; the message says which were tried."""


class SiteHandler(SimpleHTTPRequestHandler):
    """Answers GET and HEAD from one folder; brotli where the browser takes it, long caching for names made of content."""

    protocol_version = "HTTP/1.1"
    extensions_map = {**SimpleHTTPRequestHandler.extensions_map, **TYPES}

    def send_head(self) -> BinaryIO | None:
        """Send the headers and return the body, or None when there is none to send."""
        path = Path(self.translate_path(self.path))
        if path.is_dir():
            if not self.path.split("?")[0].split("#")[0].endswith("/"):
                return super().send_head()
            path = path / "index.html"
        if not path.is_file():
            return self._missing()
        return self._found(path, HTTPStatus.OK)

    def _missing(self) -> BinaryIO | None:
        page = Path(self.directory) / "404.html"
        if page.is_file():
            return self._found(page, HTTPStatus.NOT_FOUND)
        self.send_error(HTTPStatus.NOT_FOUND, "There is no such page")
        return None

    def _found(self, path: Path, status: HTTPStatus) -> BinaryIO | None:
        stamp = path.stat()
        tag = f'"{digest(f"{path} {stamp.st_mtime_ns} {stamp.st_size}".encode())[:20]}"'
        lasting = NAMED_BY_CONTENT.search(self.path)
        caching = "public, max-age=31536000, immutable" if lasting else "no-cache"
        if status is HTTPStatus.OK and self.headers.get("If-None-Match") == tag:
            self.send_response(HTTPStatus.NOT_MODIFIED)
            self.send_header("ETag", tag)
            self.send_header("Cache-Control", caching)
            self.end_headers()
            return None
        body, encoding = self._body(path, tag)
        self.send_response(status)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", caching)
        self.send_header("ETag", tag)
        self.send_header("Last-Modified", formatdate(stamp.st_mtime, usegmt=True))
        self.send_header("Vary", "Accept-Encoding")
        if encoding:
            self.send_header("Content-Encoding", encoding)
        self.end_headers()
        return BytesIO(body)

    def _body(self, path: Path, tag: str) -> tuple[bytes, str]:
        accepted = {word.split(";")[0].strip() for word in self.headers.get("Accept-Encoding", "").split(",")}
        if "br" not in accepted or path.suffix not in SQUEEZED_WORTHWHILE:
            return path.read_bytes(), ""
        ready = path.with_name(path.name + ".br")
        if ready.is_file() and ready.stat().st_mtime_ns >= path.stat().st_mtime_ns:
            return ready.read_bytes(), "br"
        small = _quickly_squeezed(path, tag)
        return (small, "br") if small is not None else (path.read_bytes(), "")

    def log_message(self, format: str, *args: object) -> None:
        """Stay silent: the terminal shows the address, not every file fetched."""


@functools.lru_cache(maxsize=512)
def _quickly_squeezed(path: Path, tag: str) -> bytes | None:
    try:
        import brotli
    except ImportError:
        return None
    return bytes(brotli.compress(path.read_bytes(), quality=QUICK_QUALITY))


def open_server(directory: Path, port: int | None = None) -> ThreadingHTTPServer:
    """Return a server that is listening but not yet answering; `port` 0 takes any, None the first free from 8321.

    Raises PortTaken when the port asked for, or every port tried, is in use, and FileNotFoundError without the folder.
    """
    if not (directory / "index.html").is_file():
        raise FileNotFoundError(f"{directory} holds no built site. Run: donorbook build")
    handler = functools.partial(SiteHandler, directory=str(directory.resolve()))
    tried = range(FIRST_PORT, FIRST_PORT + PORTS_TRIED) if port is None else range(port, port + 1)
    for number in tried:
        try:
            return _Server((HOST, number), handler)
        except OSError:
            continue
    raise PortTaken(f"Port {tried[0]} is in use." if len(tried) == 1 else f"Ports {tried[0]} to {tried[-1]} are in use.")


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    address_family = socket.AF_INET


def address_of(server: ThreadingHTTPServer) -> str:
    """Return the address to open in a browser."""
    return f"http://{HOST}:{server.server_address[1]}/"


def serve(directory: Path, port: int | None = None) -> None:
    """Serve the folder, print the address, and go on until interrupted; raises as `open_server` does."""
    with open_server(directory, port) as server:
        print(f"Donorbook is at {address_of(server)}  (press Ctrl+C to stop)", flush=True)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            print("\nStopped.")
