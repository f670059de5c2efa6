"""What can be offered: the schemes that a job leaves open, and enclosures for each."""

from __future__ import annotations

from collections.abc import Sequence

from boardwright.board.as_found import found_enclosure, longest_free_run, switch_modules
from boardwright.board.results import Scheme
from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import Kind
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.core.errors import FieldError
from boardwright.job.board import ExistingBoard
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job


def schemes(job: Job, catalogue: Catalogue, *, declined: bool = False) -> tuple[Scheme, ...]:
    """Return every scheme that can be worked out; ``declined`` where no SPD is to be fitted."""
    out = {scheme for scheme, _ in out_of_question(job, catalogue, declined=declined)}
    none = {Scheme.SPARE_WAYS, Scheme.SEPARATE_BOX} if job.existing_board is None else set()
    return tuple(scheme for scheme in Scheme if scheme not in out | none)


def wished(job: Job, possible: Sequence[Scheme]) -> tuple[Scheme, ...]:
    """Return the schemes among which the choice falls; the others are there to compare."""
    kept = tuple(scheme for scheme in possible if scheme is not Scheme.NEW_BOARD)
    if job.wishes.board == "compare":
        return tuple(possible)
    if job.wishes.board == "keep" and kept:
        return kept[:1]
    return (Scheme.NEW_BOARD,)


def out_of_question(
    job: Job, catalogue: Catalogue, *, declined: bool = False
) -> tuple[tuple[Scheme, str], ...]:
    """Return each scheme that cannot be, with the reason; none where nothing is there to keep."""
    if job.wishes.board == "new" and job.existing_board is None:
        return ()
    reasons = (
        (Scheme.SPARE_WAYS, _why_not_spare_ways(job, catalogue, declined=declined)),
        (Scheme.SEPARATE_BOX, _why_not_a_box(job, catalogue, declined=declined)),
    )
    return tuple((scheme, reason) for scheme, reason in reasons if reason)


def offers(scheme: Scheme, job: Job, catalogue: Catalogue) -> tuple[EnclosureType, ...]:
    """Return the enclosures that may serve a scheme, best first.

    Raises
    ------
    FieldError
        The job wishes for an enclosure that the catalogue lacks.
    """
    if scheme is Scheme.SEPARATE_BOX:
        return _boxes(job, catalogue)
    if scheme is Scheme.SPARE_WAYS:
        existing = job.existing_board
        found = existing and found_enclosure(existing, job.supply.phases, catalogue)
        return (found,) if found else ()
    wished = job.wishes.enclosure
    if wished:
        return (_named(wished, catalogue),)
    fitting = [
        enclosure
        for enclosure in catalogue.enclosures.values()
        if enclosure.purpose == "consumer unit"
        and enclosure.phases == job.supply.phases
        and not enclosure.combustible
        and enclosure.main_switch in catalogue.devices
    ]
    return tuple(sorted(fitting, key=lambda e: _rank(e, job, catalogue)))


def needed_modules(enclosure: EnclosureType, job: Job, catalogue: Catalogue) -> int:
    """Return an estimate of what new work takes on the rail, the wished spare ways included.

    An estimate, because devices are matched only once the circuits are worked out: one-phase
    ways count the narrowest RCBO of the family, or its AFDD where that is wished for.
    """
    divided = job.wishes.division == "split load"
    delayed = job.supply.system == "TT" and enclosure.metal
    rcd = _narrowest(Kind.RCCB, enclosure, catalogue, phases=job.supply.phases)
    rcds = 2 * divided + (delayed and (divided or not enclosure.class_ii_incomer))
    ways = sum(_way_modules(circuit, enclosure, catalogue) for circuit in job.circuits)
    spd = spd_modules(enclosure, job.supply.phases, catalogue) or 0
    switch = switch_modules(enclosure, catalogue)
    return switch + rcds * rcd + spd + ways + job.wishes.spare_ways


def spd_modules(enclosure: EnclosureType, phases: int, catalogue: Catalogue) -> int | None:
    """Return the least width of an SPD with its back-up, None where no SPD is allowed."""
    widths = [
        device.modules + (backup.modules if backup else 0)
        for device in catalogue.permitted(enclosure)
        if device.spd is not None and device.spd.phases == phases
        for backup in [catalogue.devices.get(device.spd.backup_mcb)]
    ]
    return min(widths, default=None)


def is_split(enclosure: EnclosureType) -> bool:
    """Tell whether the enclosure has neutral bars for RCD sections."""
    return any(bar.section for bar in enclosure.bars)


def smallest_of_kind(
    enclosure: EnclosureType, modules: int, catalogue: Catalogue
) -> EnclosureType | None:
    """Return the smallest enclosure like this one that has so many modules, or None."""
    alike = [
        other
        for other in catalogue.enclosures.values()
        if (other.family, other.purpose, other.phases, other.hand, is_split(other))
        == (
            enclosure.family,
            enclosure.purpose,
            enclosure.phases,
            enclosure.hand,
            is_split(enclosure),
        )
        and other.combustible is enclosure.combustible
        and other.class_ii_incomer is enclosure.class_ii_incomer
        and other.modules >= modules
    ]
    return min(alike, key=lambda other: (other.modules, other.price_gbp, other.id), default=None)


def _rank(enclosure: EnclosureType, job: Job, catalogue: Catalogue) -> tuple[object, ...]:
    """Return what orders the offers: false before true, small before large."""
    wishes = job.wishes
    fuse_a = job.supply.cutout_fuse_a or 0.0
    return (
        is_split(enclosure) is not (wishes.division == "split load"),
        wishes.maker not in {"", enclosure.maker},
        wishes.hand not in {"either", enclosure.hand},
        enclosure.ina_a < fuse_a,
        _size(enclosure, job, catalogue) < 0,
        # One RCD ahead of all puts the whole home out at once: 314.1 asks for less than that.
        job.supply.system == "TT" and enclosure.metal and not enclosure.class_ii_incomer,
        _size(enclosure, job, catalogue),
        enclosure.price_gbp,
        enclosure.id,
    )


def _size(enclosure: EnclosureType, job: Job, catalogue: Catalogue) -> int:
    """Return modules, counted down below 0 where the enclosure is too small for the estimate."""
    room = enclosure.modules
    return room if needed_modules(enclosure, job, catalogue) <= room else -room


def _way_modules(circuit: Circuit, enclosure: EnclosureType, catalogue: Catalogue) -> int:
    kind = Kind.AFDD if circuit.wanted.afdd == "yes" else Kind.RCBO
    return _narrowest(kind, enclosure, catalogue, phases=circuit.phases)


def _narrowest(kind: Kind, enclosure: EnclosureType, catalogue: Catalogue, *, phases: int) -> int:
    widths = [
        device.modules
        for device in catalogue.permitted(enclosure)
        if device.kind is kind and device.phases == phases
    ]
    return min(widths, default=1)


def _boxes(job: Job, catalogue: Catalogue) -> tuple[EnclosureType, ...]:
    boxes = [
        enclosure
        for enclosure in catalogue.enclosures.values()
        if enclosure.purpose == "SPD box"
        and spd_modules(enclosure, job.supply.phases, catalogue) is not None
    ]
    return tuple(sorted(boxes, key=lambda box: (box.modules, box.price_gbp, box.id)))


def _named(wished: str, catalogue: Catalogue) -> EnclosureType:
    units = {k: e for k, e in catalogue.enclosures.items() if e.purpose == "consumer unit"}
    if wished not in units:
        expected = f"one of {', '.join(sorted(units))}, or empty for a choice"
        raise FieldError("wishes.enclosure", wished, expected)
    return units[wished]


def _why_not_spare_ways(job: Job, catalogue: Catalogue, *, declined: bool) -> str:
    """Return why the board as found cannot take the work, or nothing."""
    existing = job.existing_board
    if existing is None:
        return "The survey describes no board as found."
    if not existing.family:
        return (
            "The board's family is not known: its maker's word that an SPD may stand in it "
            "cannot be shown."
        )
    enclosure = found_enclosure(existing, job.supply.phases, catalogue)
    if enclosure is None:
        return (
            f"The catalogue holds no {job.supply.phases}-phase enclosure of family "
            f"{existing.family} with {existing.ways} ways as found: neither its bars nor what its "
            "maker allows in it is known."
        )
    # Declined, nothing needs a way but new circuits, and those are tried on the rail.
    return "" if declined else _why_no_spd_in(existing, enclosure, catalogue)


def _why_no_spd_in(existing: ExistingBoard, enclosure: EnclosureType, catalogue: Catalogue) -> str:
    """Return why no SPD can stand in the board as found, or nothing."""
    needed = spd_modules(enclosure, enclosure.phases, catalogue)
    if needed is None:
        return f"The maker of family {existing.family} allows no SPD of the catalogue in it."
    free = longest_free_run(existing)
    if free < needed:
        return (
            f"The narrowest SPD that the maker allows takes {needed} ways side by side with its "
            f"back-up; the longest free run is {free}."
        )
    return ""


def _why_not_a_box(job: Job, catalogue: Catalogue, *, declined: bool) -> str:
    """Return why a box beside the board as found cannot be, or nothing."""
    if declined:
        return "The owner declined surge protection: there is nothing to put into a box."
    if job.existing_board is None:
        return "The survey describes no board as found for a box to hang on."
    if not _boxes(job, catalogue):
        return f"The catalogue holds no box for a {job.supply.phases}-phase SPD."
    return ""
