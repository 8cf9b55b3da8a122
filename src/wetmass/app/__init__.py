"""The page to play with: a concept told in sentences, each guess to nudge, and what comes of it at once.

`serve` opens it on this machine alone.  Nothing is computed here but where things stand: the numbers are those
of `wetmass.closing`, the pictures and the working those of `wetmass.lesson`.
"""

from __future__ import annotations

__all__ = ["serve"]


def serve(path: str, *, host: str = "127.0.0.1", port: int = 0, opens: bool = True) -> int:
    """Serve the page for a concept file, or a folder of them, until it is stopped; returns the exit status.

    host   address to listen on; anything but this machine itself is warned of
    port   0 takes a free one
    opens  whether the browser is opened

    Raises `wetmass.record.refusal.Refusal` when the file is not there, or the address cannot be had.
    """
    from wetmass.app.serving import serve as served

    return served(path, host=host, port=port, opens=opens)
