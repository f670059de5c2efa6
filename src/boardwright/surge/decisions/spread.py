"""Many surges drawn from stated distributions: what each place sees, and what decides it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.assumptions import AssumedInput, Assumptions
from boardwright.surge.bands import NamedSurge, inputs_that_matter, places_of, rounded_v
from boardwright.surge.build import network_of
from boardwright.surge.decisions.runs import rated, side_by_side, wave_peaks
from boardwright.surge.home import HomeSurge
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.waveforms import GENERATOR_A, Array, CombinationWave

LEAST_DRAWS, MOST_DRAWS = 20, 20_000
_P95_SIGMAS = NormalDist().inv_cdf(0.95)
_MAINS = "mains"
_MAINS_WORDS = "moment of the mains at which the surge comes"


@dataclass(frozen=True, slots=True)
class Rank:
    """How far one input goes with a peak: Spearman's rank correlation, -1 to 1."""

    name: str
    words: str
    correlation_ratio: float


@dataclass(frozen=True, slots=True)
class PlaceSpread:
    """What one place saw over all draws; ``above_fraction`` of them passed its withstand."""

    place: str
    appliance: str
    uw_v: float
    p5_v: float
    p50_v: float
    p95_v: float
    above_fraction: float
    ranks: tuple[Rank, ...]


@dataclass(frozen=True, slots=True)
class Spread:
    """The outcome of many draws. ``inputs`` names each distribution that was drawn from."""

    draws: int
    seed: int
    surge: str
    places: tuple[PlaceSpread, ...]
    inputs: tuple[AssumedInput, ...]

    @property
    def sentence(self) -> str:
        """How the figures were made."""
        return (
            f"{self.draws} surges, {self.surge}, drawn with seed {self.seed} from the"
            " distributions below; rounded to 50 V."
        )


def spread(
    home: HomeSurge,
    assumed: Assumptions,
    *,
    draws: int = 300,
    seed: int = 1,
    named: NamedSurge | None = None,
) -> Spread:
    """Return what many surges leave; the same seed gives the same answer.

    Parameters
    ----------
    home, assumed
        The home, and the distributions by their 5 %, 50 % and 95 % points.
    draws, seed
        How many surges, and what the draws start from.
    named
        Hold the surge at this one, as the study does; else its size, its front and the
        moment of the mains are drawn too.
    """
    check_draws(draws)
    inputs = [*inputs_that_matter(home, assumed)]
    if named is None:
        inputs += assumed.surges.values()
    table = _drawn(inputs, draws, np.random.default_rng(seed), mains=named is None)
    places = places_of(home)

    def solved(at: int) -> list[float]:
        row = {name: float(column[at]) for name, column in table.items()}
        peaks = wave_peaks(_network(home, assumed, row, named), home)
        return [peaks[place].peak_v for place in places]

    volts = np.array(side_by_side(solved, range(draws)))
    return Spread(
        draws,
        seed,
        named.name if named else "of differing size, front and moment",
        _places(home, volts, table, {item.name: item.words for item in inputs}),
        tuple(inputs),
    )


def check_draws(draws: int) -> None:
    """Raise an error for a number of draws that says nothing, or takes too long."""
    if not LEAST_DRAWS <= draws <= MOST_DRAWS:
        raise FieldError("draws", draws, f"{LEAST_DRAWS} to {MOST_DRAWS}")


def two_sided(item: AssumedInput, sigmas: Array) -> Array:
    """Return values whose 5 %, 50 % and 95 % points are an input's.

    Half a normal distribution of the logarithm on each side of the typical value: an input
    that is as often half as it is double has such a shape, and none falls below 0.
    """
    ends = np.where(sigmas > 0, item.high, item.low) / item.typical
    return np.asarray(item.typical * ends ** (np.abs(sigmas) / _P95_SIGMAS))


def rank_correlation(first: Array, second: Array) -> float:
    """Return Spearman's rank correlation; 0 where either does not vary."""
    a, b = _ranks(first), _ranks(second)
    a, b = a - a.mean(), b - b.mean()
    scale = math.sqrt(float(a @ a) * float(b @ b))
    return float(a @ b) / scale if scale else 0.0


def _ranks(values: Array) -> Array:
    """Return the rank of each value, equal values sharing the mean of theirs."""
    _, which, counts = np.unique(values, return_inverse=True, return_counts=True)
    last = np.cumsum(counts)
    return np.asarray((last - (counts - 1) / 2)[which])


def _drawn(
    inputs: list[AssumedInput], draws: int, random: np.random.Generator, *, mains: bool
) -> dict[str, Array]:
    """Return a column of values for each input, every stratum of each met once."""
    table = {item.name: two_sided(item, _sigmas(draws, random)) for item in inputs}
    if mains:
        table[_MAINS] = np.sin(2 * math.pi * _even(draws, random))
    return table


def _even(draws: int, random: np.random.Generator) -> Array:
    """Return numbers between 0 and 1, one in each of as many equal strata, in no order."""
    return np.asarray((random.permutation(draws) + random.random(draws)) / draws)


def _sigmas(draws: int, random: np.random.Generator) -> Array:
    normal = NormalDist()
    return np.array([normal.inv_cdf(p) for p in np.clip(_even(draws, random), 1e-9, 1 - 1e-9)])


def _network(
    home: HomeSurge, assumed: Assumptions, row: Mapping[str, float], named: NamedSurge | None
) -> SurgeNetwork:
    for name in row.keys() & assumed.inputs.keys():
        assumed = assumed.having(name, row[name])
    if named is not None:
        return network_of(home, named.wave, assumed)
    # A longer coil in the generator slows its voltage and its current alike.
    circuit = replace(GENERATOR_A, lr_h=GENERATOR_A.lr_h * row["front_factor"])
    wave = CombinationWave(circuit, row["open_crest_v"])
    mains_v = assumed.mains.u0_v * math.sqrt(2) * row[_MAINS]
    return network_of(home, wave, assumed, mains_v=mains_v)


def _places(
    home: HomeSurge, volts: Array, table: Mapping[str, Array], words: Mapping[str, str]
) -> tuple[PlaceSpread, ...]:
    found = []
    for at, (place, appliance, uw_v) in enumerate(rated(home)):
        column = volts[:, at]
        p5_v, p50_v, p95_v = (rounded_v(float(v)) for v in np.percentile(column, [5, 50, 95]))
        ranks = [
            Rank(name, words.get(name, _MAINS_WORDS), round(rank_correlation(drawn, column), 2))
            for name, drawn in table.items()
        ]
        ranks.sort(key=lambda rank: -abs(rank.correlation_ratio))
        above = float((column > uw_v).mean())
        found.append(PlaceSpread(place, appliance, uw_v, p5_v, p50_v, p95_v, above, tuple(ranks)))
    return tuple(found)
