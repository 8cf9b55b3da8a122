"""Start the server on one address, say where it is, and stop when told."""

from __future__ import annotations

import ipaddress
import secrets
import socket
import sys
import webbrowser

from wetmass.app.asking import LARGEST_MESSAGE
from wetmass.app.guard import LOOPBACK, OPEN
from wetmass.app.hall import Hall, first_of
from wetmass.record.refusal import Complaint, Refusal

INTERRUPTED = 130  # as a shell counts a command that was stopped

_WIDE = (
    "Warning: on {host}, every machine that can reach this one can ask for this page. It still needs the address\n"
    "with its token, which travels unencrypted: use it in a network you trust, and stop it when you are done."
)


def serve(path: str, *, host: str, port: int, opens: bool) -> int:
    """Serve until interrupted; returns the exit status.  Raises Refusal."""
    import uvicorn

    from wetmass.app.server import application

    folder, first = first_of(path)
    listening = _listen(host, port)
    port = listening.getsockname()[1]
    wide = host not in LOOPBACK
    if wide:
        print(_WIDE.format(host=host), file=sys.stderr)
    token = secrets.token_urlsafe(32)
    shown = f"[{host}]" if ":" in host else "127.0.0.1" if host == "localhost" else host
    address = f"http://{shown}:{port}{OPEN}?token={token}"
    print(f"{first} is open at\n  {address}\nStop with Ctrl+C; unsaved work is kept.", flush=True)
    server = uvicorn.Server(
        uvicorn.Config(
            application(Hall(folder, first), token, port, wide), log_level="warning", access_log=False,
            server_header=False, ws_max_size=LARGEST_MESSAGE, ws_per_message_deflate=False, ws_ping_timeout=60.0,
            h11_max_incomplete_event_size=32 * 1024, timeout_keep_alive=30, timeout_graceful_shutdown=2,
        )
    )  # fmt: skip
    if opens:
        webbrowser.open(address)
    server.run(sockets=[listening])
    return INTERRUPTED  # it ends in no other way, even where the system's own word for it is switched off


def _listen(host: str, port: int) -> socket.socket:
    """A socket on exactly this address.  Raises Refusal."""
    try:
        number = ipaddress.ip_address("127.0.0.1" if host == "localhost" else host)
    except ValueError:
        raise Refusal(
            Complaint("--host", f'"{host}"', "an address by number, such as 127.0.0.1", "leave --host out")
        ) from None
    made = socket.socket(socket.AF_INET6 if number.version == 6 else socket.AF_INET)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((str(number), port))
        made.listen(128)  # who opens the address at once waits for the answer, and is not turned away
    except (OSError, OverflowError) as error:
        made.close()
        got = f"{host}:{port}, which cannot be had ({getattr(error, 'strerror', None) or error})"
        raise Refusal(Complaint("--port", got, "a free port", "leave --port out for a free one")) from None
    return made
