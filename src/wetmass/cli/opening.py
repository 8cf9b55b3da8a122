"""`wetmass app`: the page to play with."""

from __future__ import annotations

from wetmass.cli.checking import guarded


def opened(file: str, *, host: str, port: int, opens: bool) -> int:
    """Serve the page until it is stopped; returns the exit status."""

    def work() -> int:
        from wetmass.app import serve

        return serve(file, host=host, port=port, opens=opens)

    return guarded(work, [file])
