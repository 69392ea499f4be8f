"""The local web server: what a good host would send, and nothing from outside the folder."""

from __future__ import annotations

import http.client
import os
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import brotli
import pytest

from build_tools.serve import HOST, PortTaken, address_of, open_server

PAGE = b"<!doctype html><title>A page</title>" + b" " * 500


@contextmanager
def site(folder: Path) -> Iterator[http.client.HTTPConnection]:
    """Serve a small site; gives a connection to it."""
    (folder / "index.html").write_bytes(PAGE)
    (folder / "404.html").write_bytes(b"<!doctype html><title>No such page</title>")
    (folder / "deep").mkdir()
    (folder / "deep" / "index.html").write_bytes(b"deep")
    (folder / "core.wasm").write_bytes(b"\0asm")
    (folder / "worker.mjs").write_bytes(b"export {};")
    (folder / "book-0123456789ab.json").write_bytes(b"{}")
    server = open_server(folder, 0)
    threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
    connection = http.client.HTTPConnection(HOST, server.server_address[1], timeout=30)
    try:
        yield connection
    finally:
        connection.close()
        server.shutdown()
        server.server_close()


def fetched(connection: http.client.HTTPConnection, path: str, **headers: str) -> tuple[http.client.HTTPResponse, bytes]:
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    connection.request("GET", path, headers=named)
    response = connection.getresponse()
    return response, response.read()


def test_the_runtime_and_modules_go_out_under_the_types_browsers_insist_on(tmp_path: Path) -> None:
    with site(tmp_path) as connection:
        wasm, _ = fetched(connection, "/core.wasm")
        module, _ = fetched(connection, "/worker.mjs")

    assert wasm.getheader("Content-Type") == "application/wasm"
    assert str(module.getheader("Content-Type")).startswith("text/javascript")


def test_a_page_is_squeezed_only_for_a_browser_that_takes_brotli(tmp_path: Path) -> None:
    with site(tmp_path) as connection:
        plain, body = fetched(connection, "/")
        small, squeezed = fetched(connection, "/", Accept_Encoding="gzip, br;q=0.9")

    assert (plain.getheader("Content-Encoding"), body) == (None, PAGE)
    assert small.getheader("Content-Encoding") == "br"
    assert len(squeezed) < len(PAGE) and brotli.decompress(squeezed) == PAGE


def test_a_squeezed_file_made_by_the_build_is_sent_as_it_is_unless_it_is_stale(tmp_path: Path) -> None:
    ready = brotli.compress(b"export {};", quality=11)
    with site(tmp_path) as connection:
        beside = tmp_path / "worker.mjs.br"
        beside.write_bytes(ready)
        _, fresh = fetched(connection, "/worker.mjs", Accept_Encoding="br")
        beside.write_bytes(b"stale")
        os.utime(beside, ns=(1, 1))
        _, other = fetched(connection, "/worker.mjs", Accept_Encoding="br")

    assert fresh == ready
    assert brotli.decompress(other) == b"export {};"


def test_names_made_of_content_last_and_others_are_asked_for_again(tmp_path: Path) -> None:
    with site(tmp_path) as connection:
        lasting, _ = fetched(connection, "/book-0123456789ab.json")
        page, _ = fetched(connection, "/")
        again, body = fetched(connection, "/", If_None_Match=str(page.getheader("ETag")))

    assert "immutable" in str(lasting.getheader("Cache-Control"))
    assert page.getheader("Cache-Control") == "no-cache"
    assert (again.status, body) == (304, b"")


def test_a_changed_page_is_sent_anew(tmp_path: Path) -> None:
    with site(tmp_path) as connection:
        page, _ = fetched(connection, "/")
        (tmp_path / "index.html").write_bytes(b"changed")
        again, body = fetched(connection, "/", If_None_Match=str(page.getheader("ETag")))

    assert (again.status, body) == (200, b"changed")


def test_a_folder_without_its_slash_is_sent_to_the_one_with_it(tmp_path: Path) -> None:
    with site(tmp_path) as connection:
        response, _ = fetched(connection, "/deep")
        _, body = fetched(connection, "/deep/")

    assert (response.status, response.getheader("Location")) == (301, "/deep/")
    assert body == b"deep"


def test_a_page_that_is_not_there_gets_the_site_s_own_words(tmp_path: Path) -> None:
    with site(tmp_path) as connection:
        response, body = fetched(connection, "/nothing/")

    assert response.status == 404
    assert b"No such page" in body


@pytest.mark.parametrize("path", ["/../secret.txt", "/%2e%2e/secret.txt", "/deep/../../secret.txt"])
def test_nothing_outside_the_folder_is_served(tmp_path: Path, path: str) -> None:
    (tmp_path / "secret.txt").write_bytes(b"secret")
    (tmp_path / "site").mkdir()
    with site(tmp_path / "site") as connection:
        response, body = fetched(connection, path)

    assert response.status == 404
    assert b"secret" not in body


def test_the_server_listens_to_this_machine_only(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_bytes(PAGE)
    with open_server(tmp_path, 0) as server:
        address = address_of(server)

    assert server.server_address[0] == "127.0.0.1"
    assert address == f"http://127.0.0.1:{server.server_address[1]}/"


def test_a_port_that_is_taken_is_said_so(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_bytes(PAGE)
    with socket.socket() as other:
        other.bind((HOST, 0))
        other.listen()
        port = other.getsockname()[1]

        with pytest.raises(PortTaken, match=f"Port {port} is in use."):
            open_server(tmp_path, port)


def test_an_unbuilt_site_is_said_so_with_the_command(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match="holds no built site. Run: donorbook build"):
        open_server(tmp_path, 0)
