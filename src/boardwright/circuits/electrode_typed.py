"""What a person types of an earth electrode, made into a question that can be answered."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.circuits.electrode import MOST_RODS, Rods
from boardwright.circuits.electrode_answer import ElectrodeAsked, Plate, Strip
from boardwright.circuits.typed import Span, typed_number
from boardwright.core.errors import FieldError
from boardwright.job.words import NOTHING

_SOIL, _READS = Span(0, 100_000, "ohm metres"), Span(0, 100_000, "ohm")
_LONG, _AREA = Span(0, 500, "m"), Span(0, 100, "m2")
_ROD, _APART, _DEPTH = Span(0, 100, "m"), Span(0, 200, "m"), Span(0, 10, "m")
_THICK, _WIDE, _IDN = Span(0, 500, "mm"), Span(0, 500, "mm"), Span(0, 1000, "mA")
_USUAL_APART = 2
"""Rods twice their length apart hardly share soil. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ElectrodeTyped:
    """What was typed, as typed; None where it was left out."""

    soil: str | None = None
    reads: str | None = None
    rod: str | None = None
    diameter: str = "16"
    rods: str = "1"
    spacing: str | None = None
    strip: str | None = None
    width: str = "25"
    depth: str = "0.6"
    plate: str | None = None
    idn: str = "30"


def electrode_asked(typed: ElectrodeTyped) -> ElectrodeAsked:
    """Return the question that was typed.

    Raises
    ------
    FieldError
        An option cannot be used, or two of them stand against each other.
    """
    kind = _kind(typed)
    return ElectrodeAsked(
        kind=kind,
        soil_ohm_m=_soil_ohm_m(typed),
        reading_ohm=_reading_ohm(typed),
        idn_a=typed_number("--idn", typed.idn, _IDN) / 1000,
    )


def _kind(typed: ElectrodeTyped) -> Rods | Strip | Plate:
    given = [name for name in ("rod", "strip", "plate") if getattr(typed, name) is not None]
    if len(given) != 1:
        found = " and ".join(f"--{name}" for name in given) or NOTHING
        raise FieldError("electrode", found, "one of --rod, --strip and --plate")
    if typed.strip is not None:
        return Strip(
            length_m=typed_number("--strip", typed.strip, _LONG),
            width_m=typed_number("--width", typed.width, _WIDE) / 1000,
            depth_m=typed_number("--depth", typed.depth, _DEPTH),
        )
    if typed.plate is not None:
        return Plate(typed_number("--plate", typed.plate, _AREA))
    return _rods(typed)


def _rods(typed: ElectrodeTyped) -> Rods:
    length_m = typed_number("--rod", typed.rod, _ROD)
    diameter_m = typed_number("--diameter", typed.diameter, _THICK) / 1000
    if diameter_m >= length_m:
        raise FieldError("--diameter", typed.diameter, "far less than the rod is long, in mm")
    if not typed.rods.isdecimal() or not 1 <= int(typed.rods) <= MOST_RODS:
        raise FieldError("--rods", typed.rods, f"a whole number from 1 to {MOST_RODS}")
    spacing_m = _USUAL_APART * length_m
    if typed.spacing is not None:
        spacing_m = typed_number("--spacing", typed.spacing, _APART)
    if spacing_m < length_m:
        expected = f"at least the length of a rod, {length_m:g} m"
        raise FieldError("--spacing", spacing_m, expected, remedy="Nearer rods share their soil.")
    return Rods(length_m, diameter_m, int(typed.rods), spacing_m)


def _soil_ohm_m(typed: ElectrodeTyped) -> float | None:
    if typed.soil is not None and typed.reads is not None:
        raise FieldError("--reads", typed.reads, "the soil or a reading, not both")
    if typed.soil is None and typed.reads is None:
        expected = "the resistivity of the soil in ohm metres"
        raise FieldError("--soil", NOTHING, expected, remedy="Or give --reads, what one rod reads.")
    return None if typed.soil is None else typed_number("--soil", typed.soil, _SOIL)


def _reading_ohm(typed: ElectrodeTyped) -> float | None:
    if typed.reads is None:
        return None
    if typed.rod is None:
        raise FieldError("--reads", typed.reads, "the reading of a rod: give --rod, or --soil")
    return typed_number("--reads", typed.reads, _READS)
