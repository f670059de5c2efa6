"""The devices that were let in: each by a random id of which only the hash is kept."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from secrets import token_urlsafe
from threading import Lock

from boardwright.core.errors import BoardwrightError, FieldError, FileError
from boardwright.store.records import LONGEST_WHO
from boardwright.web.devices.private import write_private

KEPT_FOR = timedelta(days=30)
"""A device is let in for so long; then it is paired anew."""

NOTED_EACH = timedelta(minutes=10)
"""How finely it is noted when a device was last seen: not every request is worth a write."""

MOST_DEVICES = 50


@dataclass(frozen=True, slots=True)
class Device:
    """One device: ``id`` names it on the page, ``proof`` is the hash of what its cookie holds."""

    id: str
    name: str
    proof: str
    paired: datetime
    ends: datetime
    seen: datetime


class UnknownDevice(BoardwrightError):  # noqa: N818 - it is no error of the job's
    """No device of that id is let in."""


class Devices:
    """Who was let in, kept in a file of this user's or, without one, in memory alone."""

    def __init__(
        self,
        file: Path | None = None,
        *,
        now: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        """Read the devices that were let in before.

        Raises
        ------
        FileError
            The file is none of ours, or cannot be read.
        """
        self._file = file
        self._now = now
        self._lock = Lock()
        self._devices = _read(file) if file else {}

    def admit(self, name: str) -> str:
        """Let a device in, and return the secret for its cookie: it is kept nowhere else.

        Raises
        ------
        FieldError
            The name is none that a history could show, or there are too many devices.
        """
        name = device_name(name)
        with self._lock:
            self._forget_ended()
            if len(self._devices) >= MOST_DEVICES:
                raise FieldError("name", name, "fewer devices: remove one first")
            secret, now = token_urlsafe(32), self._now()
            new = Device(token_urlsafe(6), name, _proof(secret), now, now + KEPT_FOR, now)
            self._devices[new.proof] = new
            self._write()
        return secret

    def known(self, secret: str) -> Device | None:
        """Return the device that a cookie's secret belongs to, unless its time has run out."""
        with self._lock:
            now, proof = self._now(), _proof(secret)
            # Found by its hash: how long the look-up takes says nothing about the secret.
            device = self._devices.get(proof)
            if device is None or device.ends <= now:
                return None
            if now - device.seen >= NOTED_EACH:
                device = self._devices[proof] = replace(device, seen=now)
                self._write()
            return device

    def listed(self) -> tuple[Device, ...]:
        """Return every device that is let in, the last paired first."""
        with self._lock:
            self._forget_ended()
            return tuple(sorted(self._devices.values(), key=lambda d: d.paired, reverse=True))

    def revoke(self, device_id: str) -> None:
        """Let a device in no more.

        Raises
        ------
        UnknownDevice
            There is none of that id.
        """
        with self._lock:
            rest = {proof: d for proof, d in self._devices.items() if d.id != device_id}
            if len(rest) == len(self._devices):
                raise UnknownDevice("There is no such device any more.")
            self._devices = rest
            self._write()

    def _forget_ended(self) -> None:
        now = self._now()
        self._devices = {proof: d for proof, d in self._devices.items() if d.ends > now}

    def _write(self) -> None:
        if self._file:
            rows = [asdict(device) for device in self._devices.values()]
            text = json.dumps({"devices": rows}, default=datetime.isoformat, indent=1)
            write_private(self._file, text.encode())


def device_name(typed: str) -> str:
    """Return the name of a device as the history may show it.

    Raises
    ------
    FieldError
        There is nothing to show, or too much.
    """
    name = " ".join(typed.split())
    if not name or not name.isprintable() or len(name) > LONGEST_WHO:
        raise FieldError("name", typed, f"a name of 1 to {LONGEST_WHO} signs, as: Ann, phone")
    return name


def _proof(secret: str) -> str:
    return hashlib.sha256(secret.encode(errors="replace")).hexdigest()


def _read(file: Path) -> dict[str, Device]:
    try:
        rows = json.loads(file.read_text(encoding="utf-8"))["devices"]
        return {row["proof"]: _device(row) for row in rows}
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, KeyError, TypeError):
        raise FileError(
            f"{file}: found no list of devices. Move it away, and pair the devices anew."
        ) from None


def _device(row: dict[str, str]) -> Device:
    moments = (datetime.fromisoformat(row[key]) for key in ("paired", "ends", "seen"))
    return Device(row["id"], row["name"], row["proof"], *moments)


__all__ = ["KEPT_FOR", "MOST_DEVICES", "Device", "Devices", "UnknownDevice", "device_name"]
