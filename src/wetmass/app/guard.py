"""Who may ask: a request is refused unless it comes from this page, on this address, with the token.

The token is fresh at each start.  The address that is opened first carries it; it moves into a cookie that no
script can read and no other site can send.  Nothing is changed by a GET: changes go over the one WebSocket,
whose origin must be our own.
"""

from __future__ import annotations

import ipaddress
import secrets
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs

LOOPBACK = ("127.0.0.1", "localhost", "::1")
OPEN = "/open"  # the address that carries the token
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
_HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), geolocation=(), microphone=()"),
    (b"x-frame-options", b"DENY"),
)
_TEXT = (b"content-type", b"text/plain; charset=utf-8")


class Guard:
    """An ASGI application that lets requests through to another one, or refuses them with a reason.

    app    what is guarded
    token  what a caller must know
    port   we listen on
    wide   whether other machines may ask: then a Host may be any address by number, never a foreign name
    """

    def __init__(self, app: Any, token: str, port: int, wide: bool = False) -> None:
        self.app, self.token, self.port, self.wide = app, token, port, wide
        self.cookie = f"wetmass-{port}"  # cookies do not tell ports apart

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        headers = {key.decode("latin-1").lower(): value.decode("latin-1") for key, value in scope["headers"]}
        if scope["type"] == "websocket":
            refusal = self.refuses_socket(headers)
            if refusal:
                await receive()  # the connect message
                await send({"type": "websocket.close", "code": 1008, "reason": refusal})
                return
            await self.app(scope, receive, send)
            return
        if scope["path"] == OPEN and not self.refuses_host(headers):
            await self._opened(scope, send)
            return
        status, refusal = self.refuses_request(scope["method"], headers)
        if refusal:
            await _answer(send, status, refusal)
            return

        async def guarded(message: Any) -> None:
            if message["type"] == "http.response.start":
                message = {**message, "headers": [*message["headers"], *_HEADERS]}
            await send(message)

        await self.app(scope, receive, guarded)

    # ── rules ──

    def refuses_host(self, headers: dict[str, str]) -> str:
        """Why the Host is not ours; "" where it is.  A foreign name that points at us is not."""
        name, port = _host(headers.get("host", ""))
        ours = name in LOOPBACK or (self.wide and _by_number(name))
        if ours and port == self.port:
            return ""
        return f'got the host "{headers.get("host", "")[:80]}"; accepted 127.0.0.1:{self.port}; open that address'

    def refuses_request(self, method: str, headers: dict[str, str]) -> tuple[int, str]:
        """(status, why) a request is refused; (200, "") where it is not."""
        refusal = self.refuses_host(headers)
        if refusal:
            return 421, refusal
        if method not in ("GET", "HEAD"):
            return 405, f"got {method[:20]}; accepted GET and HEAD; nothing here is changed by a request"
        if headers.get("sec-fetch-site", "none") not in ("none", "same-origin"):
            return (
                403,
                "got a request made by another site; accepted those of this page; open the address itself",
            )
        if not self.knows_token(headers):
            return 403, "got no token; accepted the address printed when wetmass started; open that one"
        return 200, ""

    def refuses_socket(self, headers: dict[str, str]) -> str:
        """Why a WebSocket is refused; "" where it is not."""
        refusal = self.refuses_host(headers)
        if refusal:
            return refusal[:120]
        if headers.get("origin") != f"http://{headers.get('host', '')}":
            return "got a foreign origin; accepted this page's own"
        return "" if self.knows_token(headers) else "got no token; open the address printed at the start"

    def knows_token(self, headers: dict[str, str]) -> bool:
        """Whether the cookie holds the token, compared in constant time."""
        try:
            morsel = SimpleCookie(headers.get("cookie", "")).get(self.cookie)
        except CookieError:
            return False
        return morsel is not None and secrets.compare_digest(morsel.value.encode(), self.token.encode())

    async def _opened(self, scope: Any, send: Any) -> None:
        given = parse_qs(scope.get("query_string", b"").decode("latin-1")).get("token", [""])[0]
        if scope["method"] != "GET" or not secrets.compare_digest(given.encode(), self.token.encode()):
            await _answer(
                send, 403, "got a wrong token; accepted the address printed at the start; open that one"
            )
            return
        cookie = f"{self.cookie}={self.token}; HttpOnly; SameSite=Strict; Path=/"
        await _answer(send, 303, "", [(b"location", b"/"), (b"set-cookie", cookie.encode())])


def _host(text: str) -> tuple[str, int | None]:
    """(name, port) of a Host header."""
    if text.startswith("["):
        name, _, rest = text[1:].partition("]")
        rest = rest.removeprefix(":")
    else:
        name, _, rest = text.partition(":")
    return name.casefold(), int(rest) if rest.isascii() and rest.isdigit() and len(rest) < 6 else None


def _by_number(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True


async def _answer(send: Any, status: int, words: str, more: list[tuple[bytes, bytes]] | None = None) -> None:
    headers = [_TEXT, (b"cache-control", b"no-store"), *_HEADERS, *(more or [])]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": words.encode()})
