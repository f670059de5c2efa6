"""Readings held against the limits of the design, in the order in which a tester takes them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from boardwright.core.findings import Verdict
from boardwright.design import Design
from boardwright.documents.readings.taken import LIMITED, NOT_APPLICABLE, OnSite, subject_of
from boardwright.verification.limits import (
    Bound,
    Limit,
    circuit_limits,
    origin_limits,
    over_range,
    verdict_of,
)

ORIGIN = "origin"

_FIGURE = re.compile(r"(?P<over>>?)\s*(?P<figure>\d{1,7}(?:\.\d{1,4})?)")


@dataclass(frozen=True, slots=True)
class Judged:
    """One reading: what was typed (several where they disagree), its limit, what is so of it."""

    subject: str
    limit: Limit
    values: tuple[str, ...]
    verdict: Verdict | None
    bound: Bound | None


def limits_by_place(design: Design) -> Mapping[str, tuple[Limit, ...]]:
    """Return the readings to take at the origin, and then of each circuit by its id."""
    job, edition = design.job, design.edition
    circuits = {c.id: circuit_limits(c, design.plan, edition) for c in job.circuits}
    return {ORIGIN: origin_limits(job, edition), **circuits}


def judged(design: Design, site: OnSite) -> Mapping[str, tuple[Judged, ...]]:
    """Return every reading by place, whether it was taken or not."""
    return {
        place: tuple(_judged(place, limit, limits, site) for limit in limits)
        for place, limits in limits_by_place(design).items()
    }


def counted(limit: Limit, value: str) -> float | str | None:
    """Return what a typed value counts as; None for LIM, N/A and what is no reading of this."""
    if limit.seen:
        return value if value in {"yes", "no"} else None
    found = _FIGURE.fullmatch(value)
    if found is None:
        return None
    figure = float(found["figure"])
    return over_range(limit, figure) if found["over"] else figure


def is_reading(limit: Limit, value: str) -> bool:
    """Tell whether a value may be typed for this reading."""
    return value in {LIMITED, NOT_APPLICABLE} or counted(limit, value) is not None


def _judged(place: str, limit: Limit, limits: Iterable[Limit], site: OnSite) -> Judged:
    subject = subject_of(place, limit.reading)
    values = site.values.get(subject, ())
    read = counted(limit, values[0]) if len(values) == 1 else None
    if read is None:
        return Judged(subject, limit, values, None, None)
    verdict, bound = verdict_of(limit, read, dict(_figures(place, limits, site)))
    return Judged(subject, limit, values, verdict, bound)


def _figures(place: str, limits: Iterable[Limit], site: OnSite) -> Iterable[tuple[str, float]]:
    for limit in limits:
        for value in site.values.get(subject_of(place, limit.reading), ())[-1:]:
            read = counted(limit, value)
            if isinstance(read, float):
                yield limit.reading, read


__all__ = ["ORIGIN", "Judged", "counted", "is_reading", "judged", "limits_by_place"]
