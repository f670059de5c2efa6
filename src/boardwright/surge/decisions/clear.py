"""The cheapest change that brings a place back under what it withstands, proved by solving."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from boardwright.surge.decisions.changes import Change, changes
from boardwright.surge.decisions.runs import PlaceBand, SpdLoad, bands_of, loads_of, side_by_side
from boardwright.surge.decisions.subject import Subject

_MOST_SHOWN = 3
_MOST_PAIRS = 8
"""Pairs of changes that are solved for a place which no single one clears."""


@dataclass(frozen=True, slots=True)
class Tried:
    """A change, what it leaves at every place with its uncertain inputs, what its SPDs carry."""

    change: Change
    places: tuple[PlaceBand, ...]
    loads: tuple[SpdLoad, ...]

    def clears(self, place: str) -> bool:
        """Tell whether a place is brought under its withstand with no SPD overloaded."""
        return self.at(place).passes and not any(load.overloaded for load in self.loads)

    def at(self, place: str) -> PlaceBand:
        """Return what is left at one place."""
        return next(band for band in self.places if band.place == place)


@dataclass(frozen=True, slots=True)
class Cleared:
    """A place whose band passes its rated impulse voltage, and what would clear it.

    ``ways`` clear it, the cheapest first; where none does, ``nearest`` leaves the least.
    """

    now: PlaceBand
    ways: tuple[Tried, ...]
    nearest: Tried | None


def cleared(subject: Subject, now: tuple[PlaceBand, ...]) -> tuple[Cleared, ...]:
    """Return the way out for each place that its surge can pass; nothing where none is."""
    above = [band for band in now if not band.passes]
    if not above:
        return ()
    offered = changes(subject)
    single = side_by_side(lambda change: _tried(subject, change), offered)
    return tuple(_cleared(subject, band, single) for band in above)


def _cleared(subject: Subject, now: PlaceBand, single: list[Tried]) -> Cleared:
    ways = [tried for tried in single if tried.clears(now.place)]
    if not ways:
        ways = list(_by_two(subject, now, single))
    nearest = min(single, key=lambda tried: tried.at(now.place).band.p95_v, default=None)
    return Cleared(now, tuple(ways[:_MOST_SHOWN]), None if ways else nearest)


def _by_two(subject: Subject, now: PlaceBand, single: list[Tried]) -> Iterator[Tried]:
    """Yield the cheapest pair that clears a place, of changes that each help it."""
    helping = [tried for tried in single if tried.at(now.place).band.p95_v < now.band.p95_v]
    pairs = [
        first.change.and_also(second.change)
        for first, second in combinations(helping, 2)
        if not _alike(first.change, second.change)
    ]
    for pair in sorted(pairs, key=lambda change: (change.cost_gbp, change.key))[:_MOST_PAIRS]:
        tried = _tried(subject, pair)
        if tried.clears(now.place):
            yield tried
            return


def _alike(first: Change, second: Change) -> bool:
    """Tell whether two changes cannot both be made: two devices in one place."""
    kinds = {first.key.split()[0], second.key.split()[0]}
    return len(kinds) == 1 or kinds == {"other", "no_backup"}


def _tried(subject: Subject, change: Change) -> Tried:
    home, assumed = change.made((subject.home, subject.assumed))
    return Tried(change, bands_of(home, assumed), loads_of(home, assumed))
