"""Who may ask beside this machine itself: nobody, or the devices that were paired."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from starlette.datastructures import Headers
from starlette.requests import HTTPConnection
from starlette.types import Scope

from boardwright.web.devices.pairing import Code, Pairing
from boardwright.web.devices.sessions import KEPT_FOR, Device, Devices

LOOPBACK_ADDRESSES = frozenset({"127.0.0.1", "::1", "localhost"})
LOOPBACK_NAMES = frozenset({"127.0.0.1", "[::1]", "localhost"})
_HOST = re.compile(r"(?P<name>\[[^\]]+\]|[^:]+)(?::[0-9]{1,5})?")
"""A name or address, IPv6 in brackets, and a port where it is said (RFC 3986, 3.2.2)."""


@dataclass(frozen=True, slots=True)
class Network:
    """What of the page the local network sees.

    ``names`` are the addresses and names that it goes by; ``address`` the one for the QR picture.
    ``authority`` is the certificate that a phone may be told to trust, if this tool made it.
    """

    names: frozenset[str] = frozenset()
    address: str = ""
    tls: bool = False
    authority: bytes = b""
    fingerprint: str = ""


@dataclass(frozen=True, slots=True)
class Access:
    """The network that is served, if any, and the devices that were let in."""

    network: Network | None = None
    devices: Devices = field(default_factory=Devices)
    pairing: Pairing = field(default_factory=Pairing)

    @property
    def cookie(self) -> str:
        """The name of the session's cookie: the prefix binds it to this host and to TLS."""
        return "__Host-session" if self.network and self.network.tls else "session"

    @property
    def cookie_lasts_s(self) -> int:
        """How long the browser keeps it."""
        return int(KEPT_FOR.total_seconds())

    def device_of(self, scope: Scope) -> Device | None:
        """Return the device that a request's cookie proves."""
        secret = HTTPConnection(scope).cookies.get(self.cookie, "")
        return self.devices.known(secret) if secret else None

    def link(self, code: Code) -> str:
        """Return the address that the QR picture leads to."""
        return f"{self.network.address}/pair?code={code.signs}" if self.network else ""

    def answers_to(self, scope: Scope) -> bool:
        """Say whether the Host of a request is a name of this page.

        A page of another site could reach this server under a name of its own choosing; the Host
        it then sends gives it away.
        """
        asked = _HOST.fullmatch(Headers(scope=scope).get("host", "").lower())
        far = self.network.names if self.network else frozenset[str]()
        return asked is not None and asked["name"] in (LOOPBACK_NAMES if is_near(scope) else far)


def is_near(scope: Scope) -> bool:
    """Say whether a request came in by the loopback, which nobody on the network can reach.

    That is told by the address it came in at: what a request says of its sender may be made up.
    """
    server = scope.get("server")
    return server is not None and server[0] in LOOPBACK_ADDRESSES


__all__ = ["Access", "Network", "is_near"]
