"""Why a circuit fails, and the cheapest lawful ways out, each tried before it is offered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

from boardwright.circuits.change import Change, changes
from boardwright.circuits.judged import OPEN, judged, open_findings
from boardwright.circuits.results import CircuitResult
from boardwright.circuits.site import Site
from boardwright.core.errors import FieldError
from boardwright.core.findings import Finding
from boardwright.job.circuit import Circuit

MOST = 3


@dataclass(frozen=True, slots=True)
class Remedy:
    """One way out, one change or two, and the circuit as it then is.

    ``settles`` are the findings that were open, as they read afterwards; ``work_h`` orders the
    ways: hours of usual work, no quotation. [h]
    """

    does: tuple[str, ...]
    kinds: tuple[str, ...]
    work_h: float
    circuit: Circuit
    result: CircuitResult
    settles: tuple[Finding, ...]


def remedies(circuit: Circuit, site: Site, most: int = MOST) -> tuple[Remedy, ...]:
    """Return the cheapest ways out, cheapest first; none where nothing is open, or none is left.

    Each was assessed as if it were done: after it, nothing of the circuit fails or is not known.
    Two changes are paired only where single ones leave fewer ways than asked.

    Raises
    ------
    FieldError
        The cable's size or method is none that the table has.
    """
    before = open_findings(circuit, site)
    if not before:
        return ()
    singles = tuple(changes(circuit, site))
    ways = _single(singles, before, site)
    if len(ways) < most:
        ways += _clearing(_pairs(singles, ways, site), before, site)
    return _cheapest(ways, most)


def ways_in_words(circuit: Circuit, site: Site, most: int = MOST) -> str:
    """Return the cheapest ways out that are one change, for a finding's remedy; empty if none."""
    before = open_findings(circuit, site)
    if not before:
        return ""
    ways = _cheapest(_single(tuple(changes(circuit, site)), before, site), most)
    return " Or: ".join(way.does[0] for way in ways)


def _single(singles: tuple[Change, ...], before: tuple[Finding, ...], site: Site) -> list[Remedy]:
    return list(_clearing(((change,) for change in singles), before, site))


def _cheapest(ways: list[Remedy], most: int) -> tuple[Remedy, ...]:
    # By its hours, then by how little is touched; the sort keeps the order of the changes.
    ordered = sorted(ways, key=lambda way: (way.work_h, len(way.does)))
    return tuple(islice(_no_two_alike(ordered), most))


def _pairs(
    singles: Iterable[Change], ways: Iterable[Remedy], site: Site
) -> Iterator[tuple[Change, ...]]:
    """Yield two changes of different kinds, unless one of them does it alone."""
    enough = {way.kinds[0] for way in ways}
    for first in singles:
        if first.kind in enough:
            continue
        for second in changes(first.circuit, site):
            # Each pair once: the later kind comes second.
            if second.kind > first.kind and second.kind not in enough:
                yield first, second


def _clearing(
    tried: Iterable[tuple[Change, ...]], before: tuple[Finding, ...], site: Site
) -> Iterator[Remedy]:
    for way in tried:
        circuit = way[-1].circuit
        try:
            result = site.assessed(circuit)
        except FieldError:
            # The cable's table does not have it: then it is no way out.
            continue
        after = judged(circuit, result, site)
        if not any(finding.verdict in OPEN for finding in after):
            yield Remedy(
                does=tuple(change.does for change in way),
                kinds=tuple(change.kind for change in way),
                work_h=sum(change.work_h for change in way),
                circuit=circuit,
                result=result,
                settles=_settled(after, before),
            )


def _settled(after: Iterable[Finding], before: Iterable[Finding]) -> tuple[Finding, ...]:
    were_open = {finding.check for finding in before}
    return tuple(finding for finding in after if finding.check in were_open)


def _no_two_alike(ordered: Iterable[Remedy]) -> Iterator[Remedy]:
    """Yield the first of each set of kinds: a larger size still is no other way."""
    seen: set[frozenset[str]] = set()
    for way in ordered:
        kinds = frozenset(way.kinds)
        if not any(known <= kinds for known in seen):
            seen.add(kinds)
            yield way
