"""An ASGI application called without a network."""

import asyncio
from dataclasses import dataclass
from urllib.parse import unquote


@dataclass
class Answer:
    status_code: int
    headers: dict
    text: str


def _head(headers):
    return [(name.lower().encode(), value.encode("latin-1")) for name, value in headers.items()]


def call(app, method, target, headers):
    """The answer to one request."""
    path, _, query = target.partition("?")
    scope = {"type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": method, "path": unquote(path),
             "raw_path": path.encode(), "root_path": "", "query_string": query.encode("utf-8"), "scheme": "http",
             "headers": _head(headers), "client": ("127.0.0.1", 1), "server": ("127.0.0.1", 8765)}  # fmt: skip
    sent = []

    async def receive():
        return {"type": "http.request", "body": b""}

    async def send(message):
        sent.append(message)

    asyncio.run(app(scope, receive, send))
    body = b"".join(one.get("body", b"") for one in sent[1:])
    made = {name.decode(): value.decode() for name, value in sent[0]["headers"]}
    return Answer(sent[0]["status"], made, body.decode("utf-8", "replace"))


def connect(app, path, headers):
    """What is sent on a WebSocket that is opened and says nothing."""
    scope = {"type": "websocket", "asgi": {"version": "3.0"}, "http_version": "1.1", "path": path, "raw_path": path.encode(),
             "root_path": "", "query_string": b"", "scheme": "ws", "headers": _head(headers), "subprotocols": [],
             "client": ("127.0.0.1", 1), "server": ("127.0.0.1", 8765)}  # fmt: skip
    sent = []

    async def receive():
        return {"type": "websocket.connect"}

    async def send(message):
        sent.append(message)

    asyncio.run(app(scope, receive, send))
    return sent
