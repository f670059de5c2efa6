"""The addresses that this machine has in the local network."""

from __future__ import annotations

import socket
from ipaddress import IPv4Address, IPv4Network

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
)
"""Addresses that no router of the internet passes on (RFC 1918, 3927, 6598; the last four are for
examples and measurements, RFC 5737 and 2544, and are met inside virtual machines)."""

# Of a block kept for examples: nothing is ever sent there, but the system says which of its own
# addresses it would send from.
_ELSEWHERE = ("192.0.2.1", 9)


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
        return (asked,)
    found = tuple(dict.fromkeys(each for each in (_way_out(), *_named()) if _is_local(each)))
    if not found:
        remedy = "Join the network, or name this machine's address with --address."
        raise FieldError("--lan", "no address", "an address in the local network", remedy=remedy)
    return found


def local_names() -> tuple[str, ...]:
    """Return what this machine calls itself in the local network."""
    name = socket.gethostname().split(".")[0].lower()
    plain = name.replace("-", "").isalnum() and name.isascii() and name != "localhost"
    return (f"{name}.local",) if plain else ()


def _is_local(text: str) -> bool:
    try:
        address = IPv4Address(text)
    except ValueError:
        return False
    return any(address in IPv4Network(block) for block in LOCAL_BLOCKS)


def _way_out() -> str:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(_ELSEWHERE)
        except OSError:
            return ""
        return str(asked.getsockname()[0])


def _named() -> tuple[str, ...]:
    try:
        return tuple(socket.gethostbyname_ex(socket.gethostname())[2])
    except OSError:
        return ()


__all__ = ["local_addresses", "local_names"]
