"""One circuit without a job: what a person types of it, made into a home around it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import isfinite
from typing import Any

from pydantic import ValidationError

from boardwright.circuits.imperial import strands_mm2
from boardwright.circuits.protection import FUSES
from boardwright.core.errors import FieldError, InputErrors
from boardwright.job.explain import field_errors
from boardwright.job.job import Job
from boardwright.job.words import NOTHING
from boardwright.standards.edition import Edition

_DEVICE = re.compile(r"([BCD]?)(\d+(?:\.\d+)?)", re.IGNORECASE)
_SOME_DAY = "2026-04-15"
"""A job has a day; nothing of one circuit depends on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What was typed, as typed; None where it was left out."""

    serves: str = "fixed appliance"
    power: str | None = None
    current: str | None = None
    size: str | None = None
    cpc: str | None = None
    length: str | None = None
    cable: str = "flat twin and earth"
    method: str | None = None
    ambient: str | None = None
    grouped: str | None = None
    grouping: str | None = None
    insulated: str | None = None
    device: str | None = None
    standard: str | None = None
    socket: bool = False
    ring: bool = False
    existing: bool = False
    system: str = "TN-C-S"
    ze: str | None = None
    ra: str | None = None
    ipf: str | None = None
    voltage: str | None = None
    phases: str | None = None


# Where each option goes in a job; what an error says of the place, it then says of the option.
_PLACES: Mapping[str, tuple[str, ...]] = {
    "serves": ("circuit", "serves"),
    "power": ("circuit", "load", "power_w"),
    "current": ("circuit", "load", "ib_a"),
    "size": ("circuit", "cable", "line_mm2"),
    "cpc": ("circuit", "cable", "cpc_mm2"),
    "length": ("circuit", "cable", "length_m"),
    "cable": ("circuit", "cable", "type"),
    "method": ("circuit", "cable", "method"),
    "ambient": ("circuit", "cable", "ambient_c"),
    "grouped": ("circuit", "cable", "grouped_with"),
    "grouping": ("circuit", "cable", "grouping"),
    "insulated": ("circuit", "cable", "insulated_mm"),
    "standard": ("circuit", "wanted", "standard"),
    "system": ("supply", "system"),
    "ze": ("supply", "ze_ohm"),
    "ra": ("earthing", "electrode_ohm"),
    "ipf": ("supply", "ipf_a"),
    "voltage": ("supply", "u0_v"),
    "phases": ("supply", "phases"),
}


_SIZES = frozenset({"size", "cpc"})
_TYPED = {"serves": "SERVES"}
"""What is typed without an option's name."""


def job_around(asked: Asked, edition: Edition) -> Job:
    """Return a home that holds just the circuit that was asked for.

    Raises
    ------
    FieldError, InputErrors
        An option cannot be used; the error names it as it is typed.
    """
    raw = _raw(asked)
    _pair(raw["circuits"][0]["cable"], edition)
    try:
        return Job.model_validate(raw)
    except ValidationError as error:
        raise _about_options(error, raw) from None


def _raw(asked: Asked) -> dict[str, Any]:
    circuit: dict[str, Any] = {
        "id": "circuit",
        "name": f"{asked.serves[:1].upper()}{asked.serves[1:60]}" or "Circuit",
        "existing": asked.existing,
        "topology": "ring" if asked.ring else "radial",
        "wanted": _device(asked.device),
        "cable": {},
        "load": {"with_socket": True} if asked.socket else {},
    }
    raw: dict[str, Any] = {
        "id": "one-circuit",
        "title": "One circuit",
        "designed_on": _SOME_DAY,
        "premises": {"kind": "house"},
        "supply": {},
        "earthing": {},
        "surge_environment": {"setting": "suburban"},
        "circuits": [circuit],
    }
    for option, (*sections, key) in _PLACES.items():
        typed = getattr(asked, option)
        if typed is not None:
            part = circuit if sections[0] == "circuit" else raw[sections[0]]
            for section in sections[1:]:
                part = part[section]
            part[key] = _size(typed) if option in _SIZES else _plain(typed)
    circuit["phases"] = raw["supply"].get("phases", 1)
    if asked.standard in FUSES:
        # On a new board a fuse gives way; who asks about a fuse means the board it stands on.
        raw |= {"wishes": {"board": "keep"}, "existing_board": {"ways": 1}}
    return raw


def _size(typed: str) -> object:
    """Return a size in mm2; one in strands of an inch as the copper it has. [mm²]"""
    old_mm2 = strands_mm2(typed)
    return _plain(typed) if old_mm2 is None else round(old_mm2, 3)


def _plain(typed: str) -> object:
    """Return what was typed as a number where it is one: as a job file is read."""
    for kind in (int, float):
        try:
            return kind(typed)
        except ValueError:
            continue
    return typed


def _device(typed: str | None) -> dict[str, object]:
    if typed is None:
        return {}
    read = _DEVICE.fullmatch(typed.strip())
    if read is None:
        raise FieldError("--device", typed, "a rating in A, with its curve if it has one, as B32")
    curve, rating = read.groups()
    return {"in_a": _plain(rating), "curve": curve.upper() or "B"}


def _pair(cable: dict[str, Any], edition: Edition) -> None:
    """Add the protective conductor that flat cable of a size is made with."""
    line_mm2 = cable.get("line_mm2")
    if "cpc_mm2" in cable:
        return
    if not isinstance(line_mm2, int | float) or not isfinite(line_mm2):
        # The size is told to be wrong; what follows from it is not told again.
        cable["cpc_mm2"] = 0
        return
    table = "flat_cpc_mm2" if cable["type"] == "flat twin and earth" else "protective_min_mm2"
    column = "cpc_mm2" if table == "flat_cpc_mm2" else "mm2"
    cell = edition.table(table).cell(f"{line_mm2:g}", column)
    if cell is None:
        raise FieldError("--cpc", NOTHING, "the protective conductor in mm2, for a size unlisted")
    cable["cpc_mm2"] = cell


def of_option(error: FieldError) -> FieldError:
    """Return an error about the circuit's cable as one about the option that was typed."""
    place = ("circuit", *error.path.split(".")[2:])
    option = next((name for name, where in _PLACES.items() if where == place), None)
    if option is None:
        return error
    return FieldError(f"--{option}", error.found, error.expected, remedy=error.remedy)


def _about_options(error: ValidationError, raw: dict[str, Any]) -> InputErrors:
    options = {places: option for option, places in _PLACES.items()}
    options["circuit", "wanted", "in_a"] = "device"
    options["circuit", "phases"] = "phases"
    # One option may go to two places; it is told once.
    return InputErrors(list({said.path: said for said in _named(error, raw, options)}.values()))


def _named(
    error: ValidationError, raw: dict[str, Any], options: Mapping[tuple[str, ...], str]
) -> Iterator[FieldError]:
    for loc, said in field_errors(error, raw):
        steps = tuple(str(step) for step in loc if not isinstance(step, int))
        place = ("circuit", *steps[1:]) if steps[:1] == ("circuits",) else steps
        option = options.get(place)
        path = said.path if option is None else _TYPED.get(option, f"--{option}")
        remedy = said.remedy if option is None or "Add '" not in said.remedy else f"Give {path}."
        yield FieldError(path, said.found, said.expected, remedy=remedy)
