"""The drawing code of the charts, as the package that renders them elsewhere carries it: nothing is fetched."""

from __future__ import annotations

import asyncio
import contextlib
import os
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from wetmass.app.book import drafts_folder

if TYPE_CHECKING:
    from wetmass.app.hall import Hall

_made: dict[str, bytes] = {}


def kept_at() -> Path:
    """Where it is kept once it is made, which takes some seconds."""
    return drafts_folder().parent / f"vega-{version('vl-convert-python')}.js"


async def bundle(hall: Hall) -> bytes:
    """Vega, Vega-Lite and Vega-Embed as one script."""
    if "js" not in _made:
        with contextlib.suppress(OSError):
            _made["js"] = kept_at().read_bytes()
    if "js" not in _made:
        waiting: asyncio.Future[str] = asyncio.get_running_loop().create_future()

        def hears(message: dict[str, str]) -> None:
            if not waiting.done():
                waiting.set_result(message.get("script", ""))

        hall.clerk.ask("script", hears)
        _made["js"] = (await waiting).encode()
        _keep(_made["js"])
    return _made["js"]


def _keep(script: bytes) -> None:
    path = kept_at()
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        beside = path.with_suffix(f".{os.getpid()}")
        beside.write_bytes(script)
        beside.replace(path)
