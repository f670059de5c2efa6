"""Names that a job takes from the catalogue: the caller brings the catalogue's ids."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from boardwright.core.errors import FieldError
from boardwright.job.explain import listed
from boardwright.job.job import Job
from boardwright.job.words import nearest


def check_references(
    job: Job,
    device_ids: Collection[str],
    enclosure_ids: Collection[str],
    appliance_ids: Collection[str],
) -> None:
    """See that whatever the job takes from the catalogue is in it.

    Raises
    ------
    InputErrors
        An id of the job is not in the catalogue.
    """
    errors = [
        FieldError(path, name, f"the id of {kind} of the catalogue", remedy=nearest(name, [*known]))
        for path, name, kind, known in _references(job, device_ids, enclosure_ids, appliance_ids)
        if name not in known
    ]
    if errors:
        raise listed(errors)


def _references(
    job: Job,
    device_ids: Collection[str],
    enclosure_ids: Collection[str],
    appliance_ids: Collection[str],
) -> Iterator[tuple[str, str, str, Collection[str]]]:
    if job.wishes.spd:
        yield "wishes.spd", job.wishes.spd, "an SPD", device_ids
    if job.wishes.enclosure:
        yield "wishes.enclosure", job.wishes.enclosure, "an enclosure", enclosure_ids
    for circuit in job.circuits:
        for appliance in circuit.appliances:
            path = f"circuits.{circuit.id}.appliances.{appliance.id}.kind"
            yield path, appliance.kind, "an appliance", appliance_ids
