"""Starting the page: on this machine, and for paired devices of the local network if asked for."""

from __future__ import annotations

import errno
import gc
import logging
import socket
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

from boardwright.core.errors import BoardwrightError, FieldError, FileError

if TYPE_CHECKING:
    import uvicorn

    from boardwright.web.devices.access import Access
    from boardwright.web.server.tls import Certificate

HOST = "127.0.0.1"
"""The loopback: nobody else on the network can reach it."""

_MOST_AT_ONCE = 64
_LAST_WORDS_S = 3
_TURN_S = 0.001


class PortError(BoardwrightError):
    """The page cannot be opened on a port."""


@dataclass(frozen=True, slots=True)
class Lan:
    """How the local network is served: at which address, and under which certificate.

    Without a certificate the tool makes its own; ``plain`` leaves HTTPS out.
    """

    address: str = ""
    certificate: Path | None = None
    key: Path | None = None
    plain: bool = False


def run(
    folder: Path | None,
    port: int,
    own_figures: Path | None = None,
    place: str | None = None,
    lan: Lan | None = None,
) -> None:
    """Serve the homes of a store, with a folder of job files or one of them, until interrupted.

    Raises
    ------
    BoardwrightError
        There is no such folder or file, the store or certificate cannot be used, or the port
        cannot be had.
    """
    from boardwright.store.place import place_beside
    from boardwright.store.store import open_store
    from boardwright.web.app import create_app
    from boardwright.web.devices.private import cache_folder
    from boardwright.web.homes.jobs import Jobs

    if folder and not folder.exists():
        raise FileError(f"{folder}: no such folder or job file.")
    doors = _doors(lan, port)
    # A design works for a second and more in a thread: who asks for less gets its turn sooner.
    sys.setswitchinterval(_TURN_S)
    store = open_store(place or (place_beside(folder) if folder else None))
    app = create_app(Jobs(store, folder, own_figures), doors.access, cache_folder())
    # What is there now stays: looking through it for rubbish made one save in twenty late.
    gc.collect()
    gc.freeze()
    near = [_bound(HOST, port)]
    far = [_bound(address, port) for address in doors.addresses]
    _say(f"The page is at http://{HOST}:{port}/ on this machine. Ctrl+C ends it.")
    try:
        if far:
            _announce(doors)
            with _beside(_server(app, None), near):
                _server(app, doors.certificate).run(sockets=far)
        else:
            _server(app, None).run(sockets=near)
    except KeyboardInterrupt:
        return
    finally:
        for taken in (*near, *far):
            taken.close()


@dataclass(frozen=True, slots=True)
class _Doors:
    """What is open: the access to the page, and the addresses bound beside the loopback's."""

    access: Access
    addresses: tuple[str, ...] = ()
    certificate: Certificate | None = None


def _doors(lan: Lan | None, port: int) -> _Doors:
    from boardwright.store.place import data_folder
    from boardwright.web.devices.access import Access, Network
    from boardwright.web.devices.sessions import Devices

    if lan is None:
        return _Doors(Access())
    from boardwright.web.server.network import in_address, local_addresses, local_names

    addresses = local_addresses(lan.address)
    names = (*addresses, *local_names())
    certificate = None if lan.plain else _certificate(lan, ("localhost", HOST, *names))
    if certificate and not certificate.authority:
        names = (*addresses, *(name.lower() for name in certificate.names))
    scheme = "http" if lan.plain else "https"
    network = Network(
        names=frozenset(map(in_address, names)),
        address=f"{scheme}://{in_address(addresses[0])}:{port}",
        tls=not lan.plain,
        authority=certificate.authority if certificate else b"",
        fingerprint=certificate.fingerprint if certificate else "",
    )
    access = Access(network, Devices(data_folder() / "devices.json"))
    return _Doors(access, addresses, certificate)


def _certificate(lan: Lan, names: tuple[str, ...]) -> Certificate:
    from boardwright.store.place import data_folder
    from boardwright.web.server import tls

    now = datetime.now(UTC)
    if lan.certificate and lan.key:
        return tls.given(lan.certificate, lan.key, now)
    if lan.certificate or lan.key:
        lone = "--key" if lan.certificate else "--certificate"
        raise FieldError(lone, None, "both --certificate and --key, or neither")
    return tls.made(data_folder() / "tls", names, now)


def _server(app: Callable[..., object], certificate: Certificate | None) -> uvicorn.Server:
    import uvicorn

    # A form that is none is answered; that its parser grumbles helps nobody at the terminal.
    logging.getLogger("python_multipart").setLevel(logging.CRITICAL)
    return uvicorn.Server(
        uvicorn.Config(
            app,
            log_level="warning",
            server_header=False,
            # Nothing stands before this server: what such a header says is made up.
            proxy_headers=False,
            limit_concurrency=_MOST_AT_ONCE,
            timeout_graceful_shutdown=_LAST_WORDS_S,
            ssl_certfile=certificate.file if certificate else None,
            ssl_keyfile=certificate.key if certificate else None,
        )
    )


@contextmanager
def _beside(server: uvicorn.Server, sockets: list[socket.socket]) -> Iterator[None]:
    """Serve in a thread as long as something else lasts."""
    thread = Thread(target=lambda: server.run(sockets=sockets), daemon=True)
    thread.start()
    try:
        yield
    finally:
        server.should_exit = True
        thread.join(2 * _LAST_WORDS_S)


def _announce(doors: _Doors) -> None:
    """Show the way in for a device, and a new one whenever Enter is pressed."""
    network = doors.access.network
    assert network is not None  # noqa: S101 - only called for one
    _say(f"In the local network it is at {network.address}/ for paired devices.")
    if network.fingerprint:
        _say(f"SHA-256 of the authority that a phone may trust: {network.fingerprint}")
    elif not network.tls:
        _say("Without HTTPS, whoever is in the network can read and change what goes to and fro.")
    _show_code(doors.access)
    if sys.stdin is not None and sys.stdin.isatty():
        Thread(target=_codes_on_enter, args=(doors.access,), daemon=True).start()


def _codes_on_enter(access: Access) -> None:
    for _ in sys.stdin:
        _show_code(access)


def _show_code(access: Access) -> None:
    import segno

    code = access.pairing.new_code()
    link = access.link(code)
    _say(f"\nPairing code {code.shown}, for one device, until {code.ends.astimezone():%H:%M}:")
    segno.make(link, error="m").terminal(compact=True)
    _say(f"{link}\nEnter, or the page's Devices, makes another.")


def _say(line: str) -> None:
    print(line, flush=True)  # noqa: T201 - what the command prints


def _bound(address: str, port: int) -> socket.socket:
    """Return a socket that holds the port: asked for first, so that a refusal is one sentence."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    # Named as TCP, or its answers wait 40 ms for the other side's word (asyncio, _set_nodelay).
    held = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        held.bind((address, port))
    except OSError as error:
        held.close()
        raise PortError(_refusal(address, port, error)) from None
    return held


def _refusal(address: str, port: int, error: OSError) -> str:
    if error.errno == errno.EADDRNOTAVAIL:
        return f"--address: found {address}, expected an address that this machine has."
    if error.errno == errno.EADDRINUSE:
        why = "another program has it"
    elif error.errno == errno.EACCES:
        why = "it is kept for the system"
    else:
        why = str(error.strerror)
    return f"--port: found {port}, expected a free port; {why}. Choose another, as --port 8050."


__all__ = ["HOST", "Lan", "PortError", "run"]
