"""The page's addresses.  Everything is this package's own; nothing is changed by a request."""

from __future__ import annotations

import contextlib
import hashlib
from collections.abc import AsyncIterator
from functools import cache
from importlib.resources import files

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import FileResponse, PlainTextResponse, Response
from starlette.routing import Route, WebSocketRoute
from starlette.websockets import WebSocket

from wetmass.app.guard import Guard
from wetmass.app.hall import Hall
from wetmass.app.vega import bundle
from wetmass.lesson.look import DARK, DRAWING, LIGHT, variables

_KINDS = {
    "html": "text/html; charset=utf-8", "css": "text/css; charset=utf-8", "woff2": "font/woff2",
    "js": "text/javascript; charset=utf-8", "svg": "image/svg+xml",
}  # fmt: skip
_FACES = (
    ("Source Sans 3", "source-sans-3-latin-400", 400, ""),
    ("Source Sans 3", "source-sans-3-latin-600", 600, ""),
    ("Source Sans 3", "source-sans-3-greek-400", 400, "U+0370-03FF"),
    ("Source Sans 3", "source-sans-3-greek-600", 600, "U+0370-03FF"),
    ("STIX Two Math", "stix-two-math", 400, ""),
)


def application(hall: Hall, token: str, port: int, wide: bool = False) -> Guard:
    """The whole application, guarded."""

    @contextlib.asynccontextmanager
    async def life(_: Starlette) -> AsyncIterator[None]:
        await hall.start()
        yield
        await hall.stop()

    async def talk(socket: WebSocket) -> None:
        await hall.talk(socket)

    async def drawn(request: Request) -> Response:
        return _sent(request, await bundle(hall), "js")

    def made(request: Request) -> Response:
        name = request.path_params["name"]
        path = hall.folder.root / name
        if name not in hall.made or path.is_symlink() or not path.is_file():
            return PlainTextResponse("nothing of that name was made here", 404)
        return FileResponse(path, filename=name, content_disposition_type="attachment")

    routes = [
        Route("/", lambda request: _sent(request, _static("page.html"), "html")),
        Route("/look.css", lambda request: _sent(request, look(), "css")),
        Route("/vega.js", drawn),
        Route("/made/{name}", made),
        Route("/static/{name}", _named),
        Route("/fonts/{name}", _font),
        WebSocketRoute("/talk", talk),
    ]
    return Guard(Starlette(routes=routes, lifespan=life), token, port, wide)


def _named(request: Request) -> Response:
    name = request.path_params["name"]
    kind = name.rsplit(".", 1)[-1]
    if name not in _offered() or kind not in _KINDS:
        return PlainTextResponse("nothing of that name", 404)
    return _sent(request, _static(name), kind)


def _font(request: Request) -> Response:
    name = request.path_params["name"].removesuffix(".woff2")
    if name not in {face[1] for face in _FACES}:
        return PlainTextResponse("nothing of that name", 404)
    return _sent(request, files("wetmass.lesson").joinpath(f"assets/{name}.woff2").read_bytes(), "woff2")


def _offered() -> set[str]:
    return {entry.name for entry in files("wetmass.app").joinpath("static").iterdir() if entry.is_file()}


def _static(name: str) -> bytes:
    return files("wetmass.app").joinpath(f"static/{name}").read_bytes()


def _sent(request: Request, body: bytes, kind: str) -> Response:
    tag = f'"{hashlib.sha256(body).hexdigest()[:20]}"'
    headers = {"etag": tag, "cache-control": "no-cache"}
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers=headers)
    return Response(body, media_type=_KINDS[kind], headers=headers)


@cache
def look() -> bytes:
    """Colours and type of the lesson, as this page's own style sheet; light, dark, or as the system has it."""
    faces = "".join(
        f"@font-face{{font-family:'{family}';font-weight:{weight};font-display:swap;"
        f"{f'unicode-range:{only};' if only else ''}src:url(/fonts/{name}.woff2) format('woff2')}}"
        for family, name, weight, only in _FACES
    )
    light, dark = variables(LIGHT), variables(DARK)
    return (
        f"{faces}:root{{color-scheme:light;{light}}}:root[data-look=dark]{{color-scheme:dark;{dark}}}"
        f"@media(prefers-color-scheme:dark){{:root:not([data-look=light]){{color-scheme:dark;{dark}}}}}{DRAWING}"
    ).encode()
