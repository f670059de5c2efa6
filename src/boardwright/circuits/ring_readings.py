"""A ring's readings judged: its three ends, then each socket with the ends crossed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from statistics import median

from boardwright.circuits.ring import crossed_ohm, due_ratio, lead_offset_ohm, length_of_m
from boardwright.circuits.volt_drop import drop_per_a_m, volt_drop_limit_v
from boardwright.core.findings import Finding
from boardwright.core.point import Point
from boardwright.standards.edition import Edition

_MIDDLE = 0.5
_NULL = "Null the leads, or take another instrument, and read everything again."


@dataclass(frozen=True, slots=True)
class RingReadings:
    """What was read: end to end, and at the sockets with the ends crossed, in any order."""

    line_mm2: float
    cpc_mm2: float
    r1_ohm: float
    rn_ohm: float
    r2_ohm: float
    line_neutral_ohm: tuple[float, ...] = ()
    line_cpc_ohm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class RingExpected:
    """What a whole ring with these ends reads at its sockets; ``length_m`` is that of r1."""

    length_m: float
    line_neutral_ohm: float
    line_cpc_ends_ohm: float
    line_cpc_middle_ohm: float


def expected_of(read: RingReadings, edition: Edition) -> RingExpected:
    """Return what the sockets of a whole ring would read."""
    return RingExpected(
        length_m=length_of_m(edition, read.r1_ohm, read.line_mm2),
        line_neutral_ohm=crossed_ohm(read.r1_ohm, read.rn_ohm, _MIDDLE),
        line_cpc_ends_ohm=crossed_ohm(read.r1_ohm, read.r2_ohm, 0),
        line_cpc_middle_ohm=crossed_ohm(read.r1_ohm, read.r2_ohm, _MIDDLE),
    )


def judge_ring(read: RingReadings, edition: Edition) -> tuple[Finding, ...]:
    """Return what is found of a ring's readings, in the order in which they are taken."""
    expected = expected_of(read, edition)
    return (
        _ends(read, edition),
        _ratio(read, edition),
        _length(expected, read, edition),
        *_sockets(read, expected, edition),
        *_leads(read, expected, edition),
    )


def _ends(read: RingReadings, edition: Edition) -> Finding:
    step_ohm = edition.number("gate.ring_step_ohm")
    apart_ohm = round(abs(read.r1_ohm - read.rn_ohm), 4)
    point = _point("ring.ends", "Ends", edition, "gate.ring_step_ohm", apart_ohm, step_ohm)
    if apart_ohm <= step_ohm:
        return point.passed(
            f"r1 {read.r1_ohm:g} Ω and rn {read.rn_ohm:g} Ω agree within {step_ohm:g} Ω."
        )
    return point.failed(
        f"r1 {read.r1_ohm:g} Ω and rn {read.rn_ohm:g} Ω differ by {apart_ohm:g} Ω: a loose joint, "
        "or two rings mixed.",
        "Tighten and read again; follow the ring point by point.",
    )


def _ratio(read: RingReadings, edition: Edition) -> Finding:
    due_ohm = read.r1_ohm * due_ratio(edition, read.line_mm2, read.cpc_mm2)
    slack_ohm = max(
        due_ohm * edition.number("gate.ring_ratio_fraction"), edition.number("gate.ring_step_ohm")
    )
    point = _point(
        "ring.cpc",
        "Protective conductor",
        edition,
        "gate.ring_ratio_fraction",
        read.r2_ohm,
        due_ohm,
    )
    shown = (
        f"r2 is {read.r2_ohm / read.r1_ohm:.2f} times r1; {read.line_mm2:g}/{read.cpc_mm2:g} mm² "
        f"give {due_ohm / read.r1_ohm:.2f} times, {due_ohm:.2f} Ω"
    )
    if abs(read.r2_ohm - due_ohm) <= slack_ohm:
        return point.passed(f"{shown}.")
    why = (
        "a loose joint, a smaller conductor, or leads not nulled"
        if read.r2_ohm > due_ohm
        else "a second way to earth, or the wrong conductors"
    )
    return point.advised(f"{shown}: {why}.", f"{_NULL} Then follow the conductor point by point.")


def _length(expected: RingExpected, read: RingReadings, edition: Edition) -> Finding:
    per_a_m = drop_per_a_m(edition, read.line_mm2, 1)
    limit_v = volt_drop_limit_v(edition, u0_v=edition.number("u0_v"), phases=1, lighting=False)
    most_m = 4 * limit_v / (per_a_m * edition.number("ring.volt_drop_load_a"))
    point = _point("ring.length", "Length", edition, "ring.volt_drop_load_a")
    shown = f"r1 speaks of {expected.length_m:.1f} m of {read.line_mm2:g} mm²"
    if expected.length_m <= most_m:
        return point.passed(f"{shown}.")
    return point.advised(
        f"{shown}, more than the {most_m:.0f} m at which a ring in full load meets its volt drop.",
        f"Pace the ring out. If it is not so long: {_NULL[0].lower()}{_NULL[1:]}",
    )


def _sockets(read: RingReadings, expected: RingExpected, edition: Edition) -> Iterator[Finding]:
    due_ohm = expected.line_neutral_ohm
    yield from _crossed("L–N", read.line_neutral_ohm, (due_ohm, due_ohm), edition)
    ends = sorted((expected.line_cpc_ends_ohm, expected.line_cpc_middle_ohm))
    yield from _crossed("L–cpc", read.line_cpc_ohm, (ends[0], ends[1]), edition)


def _crossed(
    name: str, read_ohm: tuple[float, ...], due_ohm: tuple[float, float], edition: Edition
) -> Iterator[Finding]:
    """Hold the sockets' readings against the lowest and the highest that a whole ring gives."""
    if not read_ohm:
        return
    low_ohm, high_ohm = due_ohm
    slack_ohm = edition.number("gate.ring_step_ohm")
    point = _point("ring.sockets", f"{name} at the sockets", edition, "gate.ring_step_ohm")
    due = f"{low_ohm:.2f}" if low_ohm == high_ohm else f"{low_ohm:.2f} to {high_ohm:.2f}"
    above = [ohm for ohm in read_ohm if ohm > high_ohm + slack_ohm]
    below = [ohm for ohm in read_ohm if ohm < low_ohm - slack_ohm]
    if below:
        yield point.failed(
            f"{_listed(below)} where a whole ring gives {due} Ω.",
            "The ends may be joined leg to itself and not crossed (readings then grow from the "
            "board to the middle); else look for a bridge across the ring.",
        )
    elif len(above) == len(read_ohm):
        yield point.failed(
            f"{_listed(above)} where a whole ring gives {due} Ω.",
            f"{_NULL} If it stays, look for loose joints at the board's ends.",
        )
    elif above:
        yield point.advised(
            f"{_listed(above)} where a whole ring gives {due} Ω: a spur, or a loose joint there.",
            "Follow it; a spur feeds one single or one twin socket unless it is fused.",
        )
    else:
        yield point.passed(f"All {len(read_ohm)} lie where a whole ring's do, {due} Ω.")


def _leads(read: RingReadings, expected: RingExpected, edition: Edition) -> Iterator[Finding]:
    """Tell whether leads that were not nulled can be all that is wrong."""
    slack_ohm = edition.number("gate.ring_step_ohm")
    pairs = (
        ("L–N", read.rn_ohm, _middle_ohm(read.line_neutral_ohm), expected.line_neutral_ohm),
        ("L–cpc", read.r2_ohm, _middle_ohm(read.line_cpc_ohm), expected.line_cpc_middle_ohm),
    )
    asked = {
        name: lead_offset_ohm(found_ohm, read.r1_ohm, other_ohm)
        for name, other_ohm, found_ohm, due_ohm in pairs
        if found_ohm is not None and found_ohm > due_ohm + slack_ohm
    }
    if len(asked) < len(pairs):
        return
    point = _point("ring.leads", "Leads", edition, "gate.ring")
    shown = " and ".join(f"{name} asks {ohm:.2f} Ω" for name, ohm in asked.items())
    low_ohm, high_ohm = sorted(asked.values())
    if high_ohm - low_ohm <= 2 * slack_ohm:
        yield point.advised(f"Leads that were not nulled explain it all: {shown}.", _NULL)
    else:
        yield point.failed(
            f"One offset of the leads cannot explain it: {shown}. The instrument is unsuitable, or "
            "its contacts are.",
            "Take a low-resistance tester of 200 mA, null it, and read everything again.",
        )


def _middle_ohm(read_ohm: tuple[float, ...]) -> float | None:
    # The median: one loose socket must not speak for all.
    return median(read_ohm) if read_ohm else None


def _listed(read_ohm: list[float]) -> str:
    return f"{', '.join(f'{ohm:g}' for ohm in read_ohm)} Ω"


def _point(  # noqa: PLR0917 - a reading and its limit belong together
    check_id: str,
    subject: str,
    edition: Edition,
    key: str,
    value: float | None = None,
    limit: float | None = None,
) -> Point:
    return Point(check_id, subject, "ring", edition.rule(key), value, limit, "Ω")
