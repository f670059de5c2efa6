"""Starting the page: on this machine only, with a sentence where the port is taken."""

from __future__ import annotations

import errno
import socket
from pathlib import Path

from boardwright.core.errors import BoardwrightError, FileError

HOST = "127.0.0.1"
"""The loopback: nobody else on the network can reach it."""


class PortError(BoardwrightError):
    """The page cannot be opened on a port."""


def run(
    folder: Path | None, port: int, own_figures: Path | None = None, place: str | None = None
) -> None:
    """Serve the homes of a store, with a folder of job files or one of them, until interrupted.

    Raises
    ------
    BoardwrightError
        There is no such folder or file, the store cannot be used, or the port cannot be had.
    """
    from boardwright.store.place import place_beside
    from boardwright.store.store import open_store
    from boardwright.web.app import create_app
    from boardwright.web.jobs import Jobs

    if folder and not folder.exists():
        raise FileError(f"{folder}: no such folder or job file.")
    store = open_store(place or (place_beside(folder) if folder else None))
    app = create_app(Jobs(store, folder, own_figures))
    taken = _bound(port)
    import uvicorn

    server = uvicorn.Server(uvicorn.Config(app, log_level="warning", server_header=False))
    print(f"The page is at http://{HOST}:{port}/ on this machine. Ctrl+C ends it.", flush=True)  # noqa: T201 - the command's one line
    try:
        server.run(sockets=[taken])
    except KeyboardInterrupt:
        return
    finally:
        taken.close()


def _bound(port: int) -> socket.socket:
    """Return a socket that holds the port: asked for first, so that a refusal is one sentence."""
    held = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        held.bind((HOST, port))
    except OSError as error:
        held.close()
        raise PortError(_refusal(port, error)) from None
    return held


def _refusal(port: int, error: OSError) -> str:
    if error.errno == errno.EADDRINUSE:
        why = "another program has it"
    elif error.errno == errno.EACCES:
        why = "it is kept for the system"
    else:
        why = str(error.strerror)
    return f"--port: found {port}, expected a free port; {why}. Choose another, as --port 8050."
