"""Who changes something, as the history tells it: the name that was given on this device."""

from __future__ import annotations

from datetime import datetime
from urllib.parse import unquote

from starlette.requests import Request

from boardwright.store.records import LONGEST_WHO, LONGEST_WHY, Stamp
from boardwright.web.devices.sessions import Device

COOKIE = "who"
NOBODY = "this device"


def who_of(request: Request) -> str:
    """Return the name of the device that asks: given at pairing, or on this machine in a cookie."""
    device = getattr(request.state, "device", None)
    if isinstance(device, Device):
        return device.name
    name = unquote(request.cookies.get(COOKIE, "")).strip()
    return name if name and name.isprintable() and len(name) <= LONGEST_WHO else NOBODY


def stamped(request: Request, why: str, now: datetime) -> Stamp:
    """Return the line of the history for a change that a request makes."""
    words = " ".join(why.split())[:LONGEST_WHY]
    return Stamp(who_of(request), words if words.isprintable() and words else "changed", now)


__all__ = ["COOKIE", "NOBODY", "stamped", "who_of"]
