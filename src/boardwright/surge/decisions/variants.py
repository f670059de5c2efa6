"""The home's surge with other leads and other places of its SPD, each solved the same way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from boardwright.board.results import Role
from boardwright.core.errors import BoardwrightError
from boardwright.surge.assumptions import Assumptions
from boardwright.surge.decisions.leads import (
    as_leads,
    at_far_end,
    of_total,
    through,
    total_m,
    with_spd,
)
from boardwright.surge.decisions.runs import PlaceBand, bands_of, side_by_side
from boardwright.surge.decisions.second import second_spd, with_second
from boardwright.surge.decisions.subject import Subject
from boardwright.surge.decisions.v_wiring import through_in_box, why_not_v
from boardwright.surge.home import HomeSurge, SpdAsWired
from boardwright.wiring.layout import Layout
from boardwright.wiring.results import SpdLeads
from boardwright.wiring.schedule import box_lead_m
from boardwright.wiring.wire import wire

_SAME_M = 1e-3


@dataclass(frozen=True, slots=True)
class Variant:
    """One way to fit the SPD, or to do without.

    ``basis`` says where its lengths come from; ``home`` is None where it cannot be, and
    ``basis`` then says why.
    """

    key: str
    words: str
    basis: str
    home: HomeSurge | None


@dataclass(frozen=True, slots=True)
class Weighed:
    """A variant with what it leaves at each place; no places where it cannot be."""

    variant: Variant
    places: tuple[PlaceBand, ...]


def variants(subject: Subject) -> tuple[Variant, ...]:
    """Return every way to fit the home's SPD that the issue of leads and place raises."""
    home, spd = subject.home, subject.home.spd
    bare = Variant("none", "No SPD", "to compare with", with_spd(home, None))
    if spd is None:
        return (bare,)
    return (
        Variant("as routed", _with_total("Leads as routed", spd), _routed(subject), home),
        *_lengths(home, spd),
        _through(subject, spd),
        _far_end(subject, spd),
        _boxed(subject, spd),
        *_seconds(subject),
        bare,
    )


def weighed(subject: Subject, assumed: Assumptions) -> tuple[Weighed, ...]:
    """Solve each variant with its uncertain inputs."""

    def solved(variant: Variant) -> Weighed:
        return Weighed(variant, () if variant.home is None else bands_of(variant.home, assumed))

    return tuple(side_by_side(solved, variants(subject)))


def _with_total(words: str, spd: SpdAsWired) -> str:
    return f"{words}, {total_m(spd):.2f} m together"


def _routed(subject: Subject) -> str:
    leads = subject.wiring.spd_leads
    if leads is not None and leads.assumed:
        return "partly assumed: the way outside the box was not surveyed"
    return "from the wiring"


def _lengths(home: HomeSurge, spd: SpdAsWired) -> Iterator[Variant]:
    for length_m in (0.5, 1.0):
        yield Variant(
            f"{length_m:g} m",
            f"Leads of {length_m:g} m together",
            "shared between line, neutral and earth as routed",
            with_spd(home, of_total(spd, length_m)),
        )


def _through(subject: Subject, spd: SpdAsWired) -> Variant:
    words = "The supply through the SPD's terminals (V wiring)"
    why = why_not_v(subject)
    if not why:
        leads = f"the earth lead of {spd.lead_pe_m:.2f} m is left"
        return Variant("through", words, leads, with_spd(subject.home, through(spd)))
    other = through_in_box(subject)
    if other.wired is None:
        return Variant("through", words, f"not here: {why}; {other.why}", None)
    return Variant(
        "through",
        f"V wiring through {other.name} in a box",
        f"as fitted not: {why}; {other.why}",
        with_spd(subject.home, other.wired),
    )


def _far_end(subject: Subject, spd: SpdAsWired) -> Variant:
    words = "The SPD at the far end of the rail"
    layout = Layout(subject.arrangement)
    if layout.separate or layout.of_role(Role.SPD) is None or layout.main is None:
        return Variant("far end", words, "not here: it stands in a box of its own", None)
    moved, way_m = at_far_end(subject.arrangement)
    try:
        wiring = wire(moved, subject.job, subject.spd, subject.edition)
    except BoardwrightError as error:
        return Variant("far end", words, f"not here: {error}", None)
    leads = wiring.spd_leads
    if leads is None:
        return Variant("far end", words, "not here: it cannot be wired there", None)
    # Along a busbar the surge runs to the far end and the drop stands at the near ways.
    there = as_leads(spd, leads)
    if not _tapped_longer(subject, leads):
        there = replace(there, lead_l_m=there.lead_l_m + way_m)
    return Variant(
        "far end",
        _with_total(words, there),
        f"wired anew; {way_m:.2f} m of busbar count with the leads",
        with_spd(subject.home, there),
    )


def _tapped_longer(subject: Subject, leads: SpdLeads) -> bool:
    now = subject.wiring.spd_leads
    return now is not None and leads.line_m > now.line_m + _SAME_M


def _boxed(subject: Subject, spd: SpdAsWired) -> Variant:
    words = "The SPD in a box beside the board"
    if Layout(subject.arrangement).separate:
        return Variant("box", words, "so it is fitted", None)
    if subject.boxed is not None:
        there, basis = as_leads(spd, subject.boxed), "leads of the scheme that was worked out"
    else:
        way_m = box_lead_m(subject.job)
        there = replace(spd, lead_l_m=way_m, lead_n_m=way_m, lead_pe_m=way_m)
        surveyed = subject.job.wishes.separate_box_lead_m is not None
        basis = f"a way of {way_m:g} m to it, {'surveyed' if surveyed else 'assumed'}"
    return Variant("box", _with_total(words, there), basis, with_spd(subject.home, there))


def _seconds(subject: Subject) -> Iterator[Variant]:
    """Yield the home with a second SPD at the appliance at the end of the longest cable."""
    far = max(subject.home.studied, key=lambda circuit: circuit.cable_m, default=None)
    if far is None or far.appliance is None:
        return
    words = f"A second SPD at {far.appliance.name} ({far.cable_m:g} m)"
    second = second_spd(subject.catalogue, subject.assumed.costs.second_lead_m)
    if second is None:
        yield Variant("second", words, "not here: the catalogue holds none for a place", None)
        return
    home = with_second(subject.home, far.name, second.wired)
    yield Variant("second", words, f"{second.device.name}; {second.why}", home)
