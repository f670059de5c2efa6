"""Whether what stands ahead of an SPD carries its surges: the maker's test first, a sum last.

A fuse or breaker in series with the SPD carries the same surge. Its maker's test says how much
passes with the device still closed. Without a test there is a sum, the crest whose I²t equals what
melts the fuse; it overrates, as a laboratory found, and so it can say that a fuse opens but never
that it holds.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import isfinite, sqrt

from boardwright.catalogue.devices import SpdData, TestedPairing
from boardwright.core.errors import FieldError
from boardwright.standards.edition import Edition

_REWIRABLE = "BS 3036"
_GG = "BS 88-2"
"""The standard whose fuses the tables of gG speak of."""


class Wave(Enum):
    """The shape of a surge current, by the name the standards give it, in µs."""

    SHORT = "8/20"
    LONG = "10/350"


@dataclass(frozen=True, slots=True)
class Impulse:
    """A surge that the SPD is rated for: In, Imax or Iimp."""

    name: str
    wave: Wave
    crest_a: float


@dataclass(frozen=True, slots=True)
class Ahead:
    """A device in series with the SPD; ``id`` names it in the job or the design.

    ``standard`` is a fuse's, empty for a breaker or a built-in fuse; ``mcb`` is the catalogue id
    of the SPD's own breaker; ``own`` tells what serves the SPD alone from what feeds the home;
    ``put_back`` says who may replace or close what feeds the home.
    """

    id: str
    name: str
    in_a: float | None
    standard: str = ""
    mcb: str = ""
    own: bool = False
    put_back: str = ""

    @property
    def is_cartridge(self) -> bool:
        """Tell a cartridge fuse from a breaker or rewirable fuse, for which no table holds."""
        return self.standard not in {"", _REWIRABLE}

    @property
    def not_gg(self) -> str:
        """What to say beside a figure that is of a gG fuse where this one is to another standard.

        The tables of the others were not seen: a gG figure is then an indication.
        """
        if self.standard == _GG:
            return ""
        return f" (this one: {self.standard.replace('unknown', 'not known')})"


class Answer(Enum):
    """What is known of one surge through one device."""

    CARRIED = "its maker's test: it stays closed"
    TEST_EXCEEDED = "above what its maker's test passed: it may open"
    OPENS = "above even the upper bound: it opens"
    NOT_SETTLED = "no test, and the sum settles nothing"


@dataclass(frozen=True, slots=True)
class Withstand:
    """One surge through one device. ``bound_a`` is an upper bound, None where there is none."""

    ahead: Ahead
    impulse: Impulse
    answer: Answer
    tested_a: float | None
    bound_a: float | None


def withstand(ahead: Ahead, spd: SpdData, edition: Edition) -> tuple[Withstand, ...]:
    """Return the answer for each surge that the SPD is rated for, the smallest first.

    References
    ----------
    IEC 61643-12: what protects the SPD carries In without opening; at Imax it may open.
    """
    return tuple(_one(ahead, impulse, spd, edition) for impulse in impulses(spd))


def impulses(spd: SpdData) -> tuple[Impulse, ...]:
    """Return the surges that an SPD is rated for."""
    rated = (
        ("In", Wave.SHORT, spd.in_8x20_a),
        ("Imax", Wave.SHORT, spd.imax_8x20_a),
        ("Iimp", Wave.LONG, spd.iimp_10x350_a),
    )
    return tuple(Impulse(name, wave, crest_a) for name, wave, crest_a in rated if crest_a)


def shape_s(wave: Wave, edition: Edition) -> float:
    """Return the integral of the squared current of unit crest. [s]"""
    key = "fuse.k_8x20_us" if wave is Wave.SHORT else "fuse.k_10x350_us"
    return edition.number(key) * 1e-6


def joule_integral_a2s(crest_a: float, shape_s: float) -> float:
    """Return I²t of a current, which a fuse must bear unmelted. [A²s]

    Raises
    ------
    FieldError
        The crest is below 0 or no number.
    """
    if not (isfinite(crest_a) and crest_a >= 0):
        raise FieldError("crest_a", crest_a, "a current in A, not below 0")
    return crest_a**2 * shape_s


def fuse_withstand_a(prearcing_a2s: float, shape_s: float) -> float:
    """Return the crest of the surge that just melts a fuse. [A]

    Parameters
    ----------
    prearcing_a2s
        Pre-arcing I²t of the fuse. [A²s]
    shape_s
        Integral of the squared current of the waveform of unit crest. [s]

    References
    ----------
    IEC 61643-12, from memory.

    Raises
    ------
    FieldError
        The fuse or the waveform has no I²t above 0.

    Examples
    --------
    >>> round(fuse_withstand_a(prearcing_a2s=9_000, shape_s=14.01e-6) / 1000, 2)
    25.35
    """
    for name, value, unit in (("prearcing_a2s", prearcing_a2s, "A²s"), ("shape_s", shape_s, "s")):
        if not (isfinite(value) and value > 0):
            raise FieldError(name, value, f"a figure above 0, in {unit}")
    return sqrt(prearcing_a2s / shape_s)


def prearcing_a2s(fuse_a: float, edition: Edition) -> float | None:
    """Return the least pre-arcing I²t of a gG fuse, or None beyond the table. [A²s]

    A size between two rows takes the larger, so that what is made of it stays an upper bound.

    Raises
    ------
    FieldError
        The rating is not above 0.
    """
    if not (isfinite(fuse_a) and fuse_a > 0):
        raise FieldError("fuse_a", fuse_a, "the rating of a fuse in A, above 0")
    table = edition.table("fuse.gg_prearcing_min")
    sizes = sorted((float(row), row) for row in table.rows)
    row = next((row for size_a, row in sizes if size_a >= fuse_a), None)
    return table.cell(row, "i2t_a2s") if row else None


def withstand_bound_a(fuse_a: float, wave: Wave, edition: Edition) -> float | None:
    """Return an upper bound of the surge that a gG fuse carries, or None beyond the table. [A]"""
    melts_a2s = prearcing_a2s(fuse_a, edition)
    return None if melts_a2s is None else fuse_withstand_a(melts_a2s, shape_s(wave, edition))


def half_cycle_a2s(ipf_a: float, edition: Edition) -> float:
    """Return the most that a device lets through which clears within the first half cycle. [A²s]

    The time is that for which the fuses' pre-arcing I²t is tabulated.
    """
    return joule_integral_a2s(ipf_a, edition.number("fuse.prearcing_time_s"))


def contradiction(edition: Edition) -> str:
    """Return the published figure that speaks against the sum, as a sentence."""
    table = edition.table("fuse.laboratory")
    name, row = next((name, row) for name, row in table.rows.items() if "opened_8x20_a" in row)
    bound_a = withstand_bound_a(row["size_a"], Wave.SHORT, edition) or 0.0
    return (
        f"The sum overrates: it gives a {name} {bound_a / 1000:.0f} kA of 8/20, and a laboratory "
        f"found that fuse unfit for an SPD of {row['opened_8x20_a'] / 1000:.0f} kA"
    )


def _one(ahead: Ahead, impulse: Impulse, spd: SpdData, edition: Edition) -> Withstand:
    tested_a, same = _tested(ahead, impulse.wave, spd)
    bound_a = _bound_a(ahead, impulse.wave, edition)
    answer = Answer.NOT_SETTLED
    if tested_a is not None and impulse.crest_a <= tested_a:
        answer = Answer.CARRIED
    elif bound_a is not None and impulse.crest_a > bound_a:
        answer = Answer.OPENS
    elif tested_a is not None and same:
        answer = Answer.TEST_EXCEEDED
    return Withstand(ahead, impulse, answer, tested_a, bound_a)


def _tested(ahead: Ahead, wave: Wave, spd: SpdData) -> tuple[float | None, bool]:
    """Return the largest surge that a test passed, and whether this very size was tested.

    What a smaller fuse of the same standard carried, this one carries too: never the other way.
    """
    if ahead.own and not ahead.mcb:
        return (spd.built_in_8x20_a if wave is Wave.SHORT else None), True
    covering = [pairing for pairing in spd.tested if _covers(pairing, ahead)]
    carried = [(_carried_a(pairing, wave), pairing.fuse_a) for pairing in covering]
    known = [(carried_a, size_a) for carried_a, size_a in carried if carried_a is not None]
    if not known:
        return None, False
    return max(carried_a for carried_a, _ in known), any(
        size_a in {None, ahead.in_a} for _, size_a in known
    )


def _covers(pairing: TestedPairing, ahead: Ahead) -> bool:
    if pairing.fuse_a is None:
        return pairing.mcb == ahead.mcb
    return pairing.fuse == ahead.standard and pairing.fuse_a <= (ahead.in_a or 0.0)


def _carried_a(pairing: TestedPairing, wave: Wave) -> float | None:
    return pairing.carried_8x20_a if wave is Wave.SHORT else pairing.carried_10x350_a


def _bound_a(ahead: Ahead, wave: Wave, edition: Edition) -> float | None:
    """Return the sum's bound for a cartridge fuse. Breakers scatter too much for any sum."""
    if not ahead.is_cartridge or ahead.in_a is None:
        return None
    return withstand_bound_a(ahead.in_a, wave, edition)
