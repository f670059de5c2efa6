"""What moving a device would do: legal or not, figures before and after, findings that change."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.board.results import Placement, Role
from boardwright.core.findings import Finding
from boardwright.design import Design, Variant
from boardwright.documents.words.answer import grouped
from boardwright.documents.words.figures import fixed, quantity, sentence, verdict_word
from boardwright.web.views.findings import QUIET
from boardwright.web.views.weigh import Point
from boardwright.web.working.moving import Tried
from boardwright.wiring.results import Origin


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure before and after."""

    name: str
    before: str
    after: str

    @property
    def moved(self) -> bool:
        """Tell whether it changed."""
        return self.before != self.after


@dataclass(frozen=True, slots=True)
class Place:
    """A device on the rail as the page moves it; ``held`` says that the job has it there."""

    item: str
    label: str
    way: int
    modules: int
    movable: bool
    held: bool


@dataclass(frozen=True, slots=True)
class MovingView:
    """What is tried: nothing, or devices moved; ``lines`` go back into an address."""

    said: str
    faults: tuple[str, ...]
    figures: tuple[Figure, ...]
    opened: tuple[Point, ...]
    closed: tuple[Point, ...]
    lines: tuple[str, ...]
    ways: tuple[tuple[str, int], ...]
    lead_m: str
    places: tuple[Place, ...]
    hand: str
    last_way: int


def moving_view(saved: Design, tried: Tried) -> MovingView:
    """Return what the moves would do to the saved design."""
    before, after = saved.chosen, tried.design.chosen
    opened, closed = _changed(before.findings, after.findings)
    leads = after.wiring.spd_leads
    enclosure = after.arrangement.enclosure
    switch = sum(p.item.device.modules for p in after.arrangement.placements if not p.way)
    return MovingView(
        said=_said(tried),
        faults=tuple(map(sentence, tried.faults)),
        figures=tuple(_figures(before, after)),
        opened=tuple(_points(opened)),
        closed=tuple(_points(closed)),
        lines=tuple(f"{move.item}:{move.way}" for move in tried.moves),
        ways=tuple(tried.ways.items()),
        lead_m=f"{leads.total_m:.3f}" if leads else "",
        places=tuple(_place(p, saved) for p in after.arrangement.placements),
        hand=enclosure.hand,
        last_way=enclosure.modules - switch,
    )


def _said(tried: Tried) -> str:
    if not tried.moves:
        return ""
    last = tried.moves[-1]
    placed = tried.design.chosen.arrangement.placement(last.item)
    if tried.faults:
        return f"{placed.item.label} cannot stand on way {last.way}."
    # Side by side with the others it may come to stand a way beside the one asked for.
    return f"{placed.item.label} on way {placed.way}, tried and not saved."


def _place(placement: Placement, saved: Design) -> Place:
    item, ways = placement.item, saved.job.wishes.ways
    key = "spd" if item.role in (Role.SPD, Role.SPD_BACKUP) else item.circuit_id
    fixed_there = item.fixed_module is not None or item.role is Role.MAIN_SWITCH
    return Place(
        item=item.id,
        label=item.label,
        way=placement.way,
        modules=item.device.modules,
        movable=bool(key) and not fixed_there,
        held=bool(key) and key in ways,
    )


def _figures(before: Variant, after: Variant) -> Iterator[Figure]:
    """Yield what an order of the ways decides."""
    yield Figure("SPD leads, together", _leads(before), _leads(after))
    yield Figure("Left at the board, lead rule", _level(before), _level(after))
    yield Figure("Cost of the order, by the wishes", _paid(before), _paid(after))
    yield Figure("New conductors, together", _copper(before), _copper(after))


def _leads(variant: Variant) -> str:
    leads = variant.wiring.spd_leads
    return quantity(leads.total_m, "m") if leads else "none"


def _level(variant: Variant) -> str:
    values = [f.value for f in variant.findings if f.check == "spd.up_effective" and f.value]
    return quantity(max(values), "V") if values else "–"


def _paid(variant: Variant) -> str:
    wishes = variant.arrangement.preferences
    return f"{sum(wish.cost for wish in wishes):g}" if wishes else "–"


def _copper(variant: Variant) -> str:
    new = (Origin.NEW, Origin.FLYING)
    total_mm = sum(c.length_mm for c in variant.wiring.conductors if c.origin in new)
    return f"{fixed(total_mm / 1000, 2)} m"


def _changed(
    before: tuple[Finding, ...], after: tuple[Finding, ...]
) -> tuple[list[Finding], list[Finding]]:
    """Return the open findings that are new, and those that are gone."""
    was = {_said_of(f): f for f in before if f.verdict not in QUIET}
    now = {_said_of(f): f for f in after if f.verdict not in QUIET}
    opened = [finding for key, finding in now.items() if key not in was]
    return opened, [finding for key, finding in was.items() if key not in now]


def _said_of(finding: Finding) -> tuple[str, str, str]:
    return finding.check, finding.subject, finding.message


def _points(findings: list[Finding]) -> Iterator[Point]:
    for group in grouped(tuple(findings)):
        lead = group.lead
        text = " ".join(words for _, words in group.said)
        yield Point(lead.verdict, verdict_word(lead.verdict), group.subjects, text)
