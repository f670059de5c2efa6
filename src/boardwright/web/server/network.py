"""The addresses that this machine has in the local network."""

from __future__ import annotations

import socket
from ipaddress import ip_address, ip_network

from boardwright.core.errors import FieldError

LOCAL_BLOCKS = (
    "10.0.0.0/8",
    "172.16.0.0/12",
    "192.168.0.0/16",
    "169.254.0.0/16",
    "100.64.0.0/10",
    "192.0.2.0/24",
    "198.18.0.0/15",
    "198.51.100.0/24",
    "203.0.113.0/24",
    "fc00::/7",
)
"""Addresses that no router of the internet passes on (RFC 1918, 3927, 6598, 4193; those from
192.0.2 to 203.0.113 are for examples and measurements, RFC 5737 and 2544, and are met inside
virtual machines). IPv6's link-local ones are left out: browsers open no address with a zone."""

# Nothing is ever sent there, but the system says which of its own addresses it would send from.
_ELSEWHERE = ((socket.AF_INET, "192.0.2.1"), (socket.AF_INET6, "fd00::1"))
_DISCARD_PORT = 9


def local_addresses(asked: str = "") -> tuple[str, ...]:
    """Return this machine's addresses in the local network, or the one that was asked for.

    Raises
    ------
    FieldError
        What was asked for is no address of a local network, or there is no such network.
    """
    if asked:
        if not _is_local(asked):
            expected = "an address of this machine in the local network, as 192.168.1.20"
            raise FieldError("--address", asked, expected)
        return (str(ip_address(asked)),)
    ways_out = (_way_out(family, to) for family, to in _ELSEWHERE)
    # Those of IPv4 first: the shorter ones, which people read from the terminal.
    known = sorted((*ways_out, *_named()), key=lambda each: ":" in each)
    found = tuple(dict.fromkeys(each for each in known if _is_local(each)))
    if not found:
        remedy = "Join the network, or name this machine's address with --address."
        raise FieldError("--lan", "no address", "an address in the local network", remedy=remedy)
    return found


def local_names() -> tuple[str, ...]:
    """Return what this machine calls itself in the local network."""
    name = socket.gethostname().split(".")[0].lower()
    plain = name.replace("-", "").isalnum() and name.isascii() and name != "localhost"
    return (f"{name}.local",) if plain else ()


def in_address(host: str) -> str:
    """Return a host as it stands in an address and in Host: IPv6 in brackets (RFC 3986, 3.2.2)."""
    return f"[{host}]" if ":" in host else host


def _is_local(text: str) -> bool:
    try:
        address = ip_address(text)
    except ValueError:
        return False
    is_plain = "%" not in text
    return is_plain and any(address in ip_network(block) for block in LOCAL_BLOCKS)


def _way_out(family: socket.AddressFamily, to: str) -> str:
    try:
        with socket.socket(family, socket.SOCK_DGRAM) as asked:
            asked.connect((to, _DISCARD_PORT))
            return str(asked.getsockname()[0])
    except OSError:
        return ""


def _named() -> tuple[str, ...]:
    try:
        found = socket.getaddrinfo(socket.gethostname(), None, type=socket.SOCK_STREAM)
    except OSError:
        return ()
    return tuple(str(place[0]) for *_, place in found)


__all__ = ["in_address", "local_addresses", "local_names"]
