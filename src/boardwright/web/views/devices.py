"""The devices that are paired, and the code for the next one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from starlette.requests import Request

from boardwright.web.devices.access import Access
from boardwright.web.devices.sessions import Device
from boardwright.web.devices.stamps import NOBODY, who_of
from boardwright.web.look.moments import moment


@dataclass(frozen=True, slots=True)
class Shown:
    """One device of the list; ``own`` is the one that asks."""

    id: str
    name: str
    paired: str
    seen: str
    ends: str
    own: bool


@dataclass(frozen=True, slots=True)
class CodeShown:
    """The code that is open: its signs, its picture, its address and its end."""

    signs: str
    picture: str
    link: str
    ends: str


@dataclass(frozen=True, slots=True)
class DevicesView:
    """The page of devices; ``near`` is true on the machine that serves."""

    answer: str
    devices: tuple[Shown, ...]
    near: bool
    network: bool
    code: CodeShown | None
    name: str
    fingerprint: str
    uncovered: bool


@dataclass(frozen=True, slots=True)
class PairView:
    """The page that asks a device for the code."""

    code: str
    name: str
    said: str
    fingerprint: str
    uncovered: bool


def devices_view(request: Request, access: Access) -> DevicesView:
    """Return what is known of the devices."""
    own = getattr(request.state, "device", None)
    near = bool(request.state.near)
    listed = access.devices.listed()
    named = who_of(request)
    return DevicesView(
        answer=_answer(len(listed), network=access.network is not None),
        devices=tuple(_shown(device, own) for device in listed),
        near=near,
        network=access.network is not None,
        code=_code(access) if near else None,
        name="" if named == NOBODY else named,
        fingerprint=access.network.fingerprint if access.network else "",
        uncovered=_uncovered(access),
    )


def pair_view(access: Access, code: str, *, name: str = "", said: str = "") -> PairView:
    """Return the form that a device fills in; ``said`` is why the last try failed."""
    fingerprint = access.network.fingerprint if access.network else ""
    return PairView(code, name, said, fingerprint, _uncovered(access))


def picture(link: str) -> str:
    """Return the QR picture of an address as SVG, dark on light in every look of the page."""
    import segno

    return str(
        segno.make(link, error="m").svg_inline(
            omitsize=True, border=4, dark="#000", light="#fff", svgclass="qr", lineclass=None
        )
    )


def _answer(count: int, *, network: bool) -> str:
    if not network:
        return "This page answers on this machine only."
    if not count:
        return "No device is paired yet."
    return "One device is paired." if count == 1 else f"{count} devices are paired."


def _shown(device: Device, own: Device | None) -> Shown:
    return Shown(
        device.id,
        device.name,
        moment(device.paired),
        moment(device.seen),
        _day(device.ends),
        own is not None and own.id == device.id,
    )


def _code(access: Access) -> CodeShown | None:
    code = access.pairing.open_code()
    if code is None or access.network is None:
        return None
    link = access.link(code)
    return CodeShown(code.shown, picture(link), link, moment(code.ends))


def _uncovered(access: Access) -> bool:
    return access.network is not None and not access.network.tls


def _day(when: datetime) -> str:
    local = when.astimezone()
    return f"{local.day} {local:%B %Y}"
