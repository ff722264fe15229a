"""Who may ask: only pages that this server gave out, on names that it goes by.

A page of another site that the same browser has open can send requests here, and a name can
be made to lead here (DNS rebinding): so Host and Origin are checked on everything
(RFC 9110, 7.2; RFC 6454, 7). On a network a secret is asked for as well.
"""

from __future__ import annotations

import hmac
import secrets
import time
from collections import deque
from dataclasses import dataclass, field
from http.cookies import SimpleCookie
from urllib.parse import parse_qs, urlsplit

from markupsafe import Markup
from starlette.responses import HTMLResponse, RedirectResponse
from starlette.types import ASGIApp, Receive, Scope, Send

from ..facts import Name
from .page_voice import voice_in

#: Wrong secrets in so many seconds, after which nobody is answered for as long.
_TRIES, _WITHIN_S = 10, 60.0
COOKIE = "kerfwind"
#: Read on a phone: as wide as it is.
_TURNED_AWAY = Markup(
    '<!doctype html><html lang="en"><meta charset="utf-8">'
    '<meta name="viewport" content="width=device-width, initial-scale=1">'
    "<title>kerfwind</title><p>{}</p></html>"
)

#: The page loads from nowhere else and is framed by nobody (Content Security Policy Level 3).
_HEADERS = [
    (
        b"content-security-policy",
        b"default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; "
        b"font-src 'self'; connect-src 'self'; manifest-src 'self'; form-action 'none'; "
        b"frame-ancestors 'none'; base-uri 'none'",
    ),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cache-control", b"no-store"),
]


@dataclass
class Guard:
    """Lets through what is ours, and refuses the rest before anything else sees it.

    Attributes
    ----------
    hosts
        Names and ports that it goes by, such as ``127.0.0.1:8123``.
    secret
        Asked for where it is not empty: once in the address, from then on in a cookie that
        scripts cannot read.
    """

    app: ASGIApp
    hosts: frozenset[str]
    secret: str = ""
    _wrong: deque[float] = field(default_factory=deque)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request or connection."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        headers = {k.decode("latin-1").lower(): v.decode("latin-1") for k, v in scope["headers"]}
        if headers.get("host", "") not in self.hosts:
            await _refuse(scope, receive, send, 400)
            return
        origin = headers.get("origin")
        if origin is not None and urlsplit(origin).netloc not in self.hosts:
            await _refuse(scope, receive, send, 403)
            return
        if origin is None and scope["type"] == "websocket":
            await _refuse(scope, receive, send, 403)
            return
        if self.secret and not self._known(headers):
            await self._first(scope, receive, send)
            return
        await self.app(scope, receive, _with_headers(send))

    def _known(self, headers: dict[str, str]) -> bool:
        cookies = SimpleCookie()
        try:
            cookies.load(headers.get("cookie", ""))
        except Exception:
            return False
        held = cookies.get(COOKIE)
        return held is not None and hmac.compare_digest(held.value.encode(), self.secret.encode())

    async def _first(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Someone without the cookie: the secret in the address gives it."""
        now = time.monotonic()
        while self._wrong and now - self._wrong[0] > _WITHIN_S:
            self._wrong.popleft()
        if len(self._wrong) >= _TRIES:
            await _refuse(scope, receive, send, 429, voice_in().word("app.phone.too_often"))
            return
        given = parse_qs(scope.get("query_string", b"").decode("latin-1")).get("key", [""])[0]
        if scope["type"] == "http" and hmac.compare_digest(given.encode(), self.secret.encode()):
            answer = RedirectResponse("/", status_code=303)
            answer.set_cookie(COOKIE, self.secret, httponly=True, samesite="strict", path="/")
            await answer(scope, receive, send)
            return
        if given or scope["type"] == "http":
            self._wrong.append(now)
        word = voice_in().word
        place, let = Name(word("app.place.bench")), Name(word("app.phone.let"))
        await _refuse(scope, receive, send, 403, word("app.phone.not_in", place=place, let=let))


def new_secret() -> str:
    """128 bits that fit into an address."""
    return secrets.token_urlsafe(16)


async def _refuse(scope: Scope, receive: Receive, send: Send, status: int, said: str = "") -> None:
    """Turn somebody away; a person who looks at it is told what to do."""
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.close", "code": 1008})
        return
    page = _TURNED_AWAY.format(said) if said else ""
    await HTMLResponse(page, status_code=status)(scope, receive, send)


def _with_headers(send: Send) -> Send:
    async def sending(message: dict) -> None:  # type: ignore[type-arg]
        if message["type"] == "http.response.start":
            given = {k.lower() for k, _ in message["headers"]}
            message["headers"] = [
                *message["headers"],
                *((k, v) for k, v in _HEADERS if k not in given),
            ]
        await send(message)

    return sending  # type: ignore[return-value]
