"""Who is let in: raw requests, as a page of another site or somebody on the network sends them."""

from __future__ import annotations

import html
import http.client
import json
import re
import socket
from contextlib import suppress
from urllib.parse import urlsplit

import pytest
from websockets.exceptions import ConnectionClosed
from websockets.sync.client import connect

from tests.app.conftest import PATIENCE_MS, Server


@pytest.fixture
def phone(shop):
    """A server that lets a phone in."""
    running = Server(shop, "--phone")
    yield running
    running.end()


def asked(server, path="/", host="127.0.0.1", **headers):
    """The answer to one request; names of headers with lines under for dashes."""
    return _asked(host, server.port, path, headers)


def asked_by_phone(server, path="/", **headers):
    """The answer to one request on the network."""
    door = urlsplit(server.phone)
    return _asked(door.hostname, door.port, path, headers)


def _asked(host, port, path, headers):
    link = http.client.HTTPConnection(host, port, timeout=PATIENCE_MS / 1000)
    link.request("GET", path, headers={k.replace("_", "-"): v for k, v in headers.items()})
    answer = link.getresponse()
    answer.body = answer.read()
    link.close()
    return answer


def entry(server):
    """What the code leads a phone to."""
    door = urlsplit(server.phone)
    return f"{door.path}?{door.query}"


_LIVE = {
    "Upgrade": "websocket",
    "Connection": "Upgrade",
    "Sec_WebSocket_Version": "13",
    "Sec_WebSocket_Key": "dGhlIHNhbXBsZSBub25jZQ==",
}


def test_only_its_own_names_and_pages_are_answered(server):
    own = f"127.0.0.1:{server.port}"
    assert asked(server).status == 200
    assert asked(server, Host="planner.example").status == 400
    assert asked(server, Host=f"planner.example:{server.port}").status == 400
    assert asked(server, Origin="http://other.example").status == 403
    assert asked(server, "/take/shop.toml", Origin="null").status == 403
    assert asked(server, "/live", **_LIVE, Origin=f"http://{own}").status == 101
    assert asked(server, "/live", **_LIVE, Origin="http://other.example").status != 101
    assert asked(server, "/live", **_LIVE).status != 101


def test_a_page_may_load_from_nowhere_else_and_be_framed_by_nobody(server):
    answer = asked(server)
    policy = answer.headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "script-src 'self';" in policy
    assert not re.search(rb"""(src|href)=["']?(https?:)?//""", answer.body)


def test_file_names_are_never_paths(server):
    for path in ("/take/../shop.toml", "/take/..%2f..%2fetc%2fpasswd", "/static/..%2fserver.py"):
        assert asked(server, path).status in (400, 404)


def test_the_phone_is_let_in_by_the_secret_once_and_by_a_cookie_then(phone):
    assert asked_by_phone(phone).status == 403
    first = asked_by_phone(phone, entry(phone))
    assert first.status == 303
    cookie = first.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert re.search("samesite=strict", cookie, re.IGNORECASE)
    kept = cookie.partition(";")[0]
    assert asked_by_phone(phone, Cookie=kept).status == 200
    assert asked_by_phone(phone, Cookie=kept[:-1]).status == 403
    origin = f"http://{urlsplit(phone.phone).netloc}"
    assert asked_by_phone(phone, "/live", **_LIVE, Origin=origin, Cookie=kept).status == 101
    assert asked_by_phone(phone, "/live", **_LIVE, Origin=origin).status != 101
    # A name that only this computer goes by is none of the network's.
    own = f"127.0.0.1:{phone.port}"
    assert asked_by_phone(phone, Host=own, Cookie=kept).status == 400


def test_this_computer_needs_no_secret_and_answers_nobody_else(phone):
    assert "key=" not in phone.address
    assert asked(phone).status == 200
    assert asked(phone, Host=urlsplit(phone.phone).netloc).status == 400


def test_guessing_is_stopped_even_for_the_right_guess(phone):
    tried = [asked_by_phone(phone, f"/?key=guess{n}").status for n in range(12)]
    assert tried[0] == 403
    assert tried[-1] == 429
    assert asked_by_phone(phone, entry(phone)).status == 429


def test_the_secret_is_written_nowhere(phone):
    secret = phone.phone.partition("key=")[2]
    assert len(secret) >= 20
    assert asked_by_phone(phone, entry(phone)).status == 303
    phone.end()
    written = [file for file in phone.file.parent.rglob("*") if file.is_file()]
    assert len(written) > 1
    for file in written:
        assert secret.encode() not in file.read_bytes(), file


def live(server, *messages):
    """What a page of this computer hears after it said something."""
    origin = f"http://127.0.0.1:{server.port}"
    with connect(f"ws://127.0.0.1:{server.port}/live", origin=origin, ping_timeout=None) as socket:
        for message in messages:
            socket.send(json.dumps(message))
        while (heard := json.loads(socket.recv(PATIENCE_MS / 1000)))["t"] != "phone":
            pass
        return html.unescape(heard["html"])


def test_a_phone_is_let_in_from_the_page_and_out_again(own_server):
    """Nothing answers on the network before, nor after."""
    server = own_server
    door = ("127.0.0.2", server.port)
    with pytest.raises(OSError):
        socket.create_connection(door, 2)
    shown = live(server, {"t": "phone", "in": True})
    server.phone = re.search(r"http://[^ <]+", shown)[0]
    first = asked_by_phone(server, entry(server))
    assert first.status == 303
    kept = first.headers["set-cookie"].partition(";")[0]
    page = asked_by_phone(server, Cookie=kept)
    assert page.status == 200
    # Who was let in lets in nobody else.
    assert b"data-phone" not in page.body
    assert server.phone.partition("key=")[2].encode() not in page.body
    origin = f"http://{urlsplit(server.phone).netloc}"
    there = origin.replace("http", "ws") + "/live"
    with connect(there, origin=origin, additional_headers={"Cookie": kept}) as in_the_shop:
        in_the_shop.send(json.dumps({"t": "phone", "in": False}))
        in_the_shop.send(json.dumps({"t": "hello", "client": "p", "place": "bench"}))
        while json.loads(in_the_shop.recv(PATIENCE_MS / 1000))["t"] != "parts":
            pass
        assert asked_by_phone(server, Cookie=kept).status == 200
        assert "http://" not in live(server, {"t": "phone", "in": False})
        with suppress(ConnectionClosed):
            for _ in in_the_shop:
                pass
    with pytest.raises(OSError):
        socket.create_connection(door, 2)
    assert asked(server).status == 200
    old = server.phone
    server.phone = re.search(r"http://[^ <]+", live(server, {"t": "phone", "in": True}))[0]
    assert server.phone.partition("key=")[2] != old.partition("key=")[2]
    assert asked_by_phone(server, Cookie=kept).status == 403
    assert asked_by_phone(server, entry(server)).status == 303
