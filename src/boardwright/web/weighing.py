"""Edits that are only tried: as they stand in an address, in words, and which are worth a try."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardwright.core.errors import FieldError
from boardwright.design import Design
from boardwright.job.edit import Edit
from boardwright.job.job import Job
from boardwright.web.views.entries import COLUMNS, MORE, as_typed

MOST = 60
"""How many edits one variant may have; an address holds no more."""

_TITLES = {column.path: column.title for column in (*COLUMNS, *MORE)}

_WISHES = {
    "wishes.division": "RCDs",
    "wishes.maker": "Maker wished for",
    "wishes.enclosure": "Enclosure wished for",
    "wishes.spd": "SPD wished for",
    "wishes.spare_ways": "Spare ways wished for",
    "surge_environment.declined_by": "Surge protection declined by",
}


@dataclass(frozen=True, slots=True)
class Idea:
    """A variant worth a try: its name, and its edits as an address has them."""

    words: str
    edits: tuple[str, ...]


def read(lines: Sequence[str]) -> tuple[Edit, ...]:
    """Return edits from ``path=value`` lines; nothing behind the sign means not known.

    Raises
    ------
    FieldError
        A line names no path, or there are too many.
    """
    if len(lines) > MOST:
        raise FieldError("variant", f"{len(lines)} edits", f"at most {MOST}")
    edits = []
    for line in lines:
        path, sign, value = line.partition("=")
        if not sign or not path:
            raise FieldError("variant", line, "a path of the job and its value, as wishes.spd=")
        edits.append(Edit(path, value or None))
    return tuple(edits)


def written(edits: Sequence[Edit]) -> tuple[str, ...]:
    """Return edits as ``path=value`` lines, the last of a path alone."""
    last = {edit.path: as_typed(edit.value) for edit in edits}
    return tuple(f"{path}={value}" for path, value in last.items())


def in_words(job: Job, edits: Sequence[Edit]) -> tuple[str, ...]:
    """Return what each edit changes, from what to what: ``Cooker, Line: 6 → 10``."""
    last = {edit.path: as_typed(edit.value) for edit in edits}
    return tuple(
        f"{_name(job, path)}: {_before(job, path) or 'nothing'} → {value or 'nothing'}"
        for path, value in last.items()
    )


def ideas(design: Design) -> Iterator[Idea]:
    """Yield what is often asked of a home: the other division, another maker, no SPD."""
    wishes = design.job.wishes
    divided = any(section.rcd_in_a is not None for section in design.plan.sections)
    other = "RCBO on every way" if divided else "split load"
    yield Idea(other[0].upper() + other[1:], (f"wishes.division={other}",))
    enclosures = design.catalogue.enclosures.values()
    units = [e for e in enclosures if e.purpose == "consumer unit"]
    here = design.chosen.arrangement.enclosure.maker
    for maker in sorted({e.maker for e in units if e.phases == design.job.supply.phases} - {here}):
        yield Idea(f"A board of {maker}", (f"wishes.maker={maker}", "wishes.enclosure="))
    taken = design.chosen.spd.candidate
    for candidate in design.chosen.spd.candidates:
        device = candidate.device
        if candidate.suitable and taken is not None and device.id != taken.device.id:
            yield Idea(f"SPD: {device.name}", (f"wishes.spd={device.id}",))
    if taken is not None:
        yield Idea("Surge protection declined", ("surge_environment.declined_by=owner",))
    if wishes.spare_ways:
        yield Idea("No spare ways", ("wishes.spare_ways=0",))


def _name(job: Job, path: str) -> str:
    section, _, rest = path.partition(".")
    if section != "circuits":
        return _WISHES.get(path, path)
    circuit_id, _, field = rest.partition(".")
    names = [circuit.name for circuit in job.circuits if circuit.id == circuit_id]
    return f"{names[0] if names else circuit_id}, {_TITLES.get(field, field)}"


def _before(job: Job, path: str) -> str:
    """Return what a field holds now; empty where there is none."""
    found: object = job
    for step in path.split("."):
        if isinstance(found, tuple):
            found = next((item for item in found if getattr(item, "id", None) == step), None)
        else:
            found = getattr(found, step, None)
    return as_typed(found) if isinstance(found, str | int | float) else ""


__all__ = ["Idea", "ideas", "in_words", "read", "written"]
