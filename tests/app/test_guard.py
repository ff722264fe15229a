"""Who is let in: raw requests, as a page of another site or somebody on the network sends them."""

from __future__ import annotations

import http.client
import re

import pytest

from tests.app.conftest import PATIENCE_MS, Server


@pytest.fixture
def phone(shop):
    """A server for the local network too."""
    running = Server(shop, "--phone")
    yield running
    running.end()


def asked(server, path="/", **headers):
    """The answer to one request; names of headers with lines under for dashes."""
    link = http.client.HTTPConnection("127.0.0.1", server.port, timeout=PATIENCE_MS / 1000)
    link.request("GET", path, headers={k.replace("_", "-"): v for k, v in headers.items()})
    answer = link.getresponse()
    answer.body = answer.read()
    link.close()
    return answer


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
    assert asked(phone).status == 403
    path = phone.address.partition(str(phone.port))[2]
    first = asked(phone, path)
    assert first.status == 303
    cookie = first.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert re.search("samesite=strict", cookie, re.IGNORECASE)
    kept = cookie.partition(";")[0]
    assert asked(phone, Cookie=kept).status == 200
    assert asked(phone, Cookie=kept[:-1]).status == 403
    origin = f"http://127.0.0.1:{phone.port}"
    assert asked(phone, "/live", **_LIVE, Origin=origin, Cookie=kept).status == 101
    assert asked(phone, "/live", **_LIVE, Origin=origin).status != 101


def test_guessing_is_stopped_even_for_the_right_guess(phone):
    tried = [asked(phone, f"/?key=guess{n}").status for n in range(12)]
    assert tried[0] == 403
    assert tried[-1] == 429
    assert asked(phone, phone.address.partition(str(phone.port))[2]).status == 429


def test_the_secret_is_written_nowhere(phone):
    secret = phone.address.partition("key=")[2]
    assert len(secret) >= 20
    assert asked(phone, f"/?key={secret}").status == 303
    for file in phone.file.parent.rglob("*"):
        if file.is_file():
            assert secret.encode() not in file.read_bytes(), file
