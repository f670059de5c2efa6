"""V wiring: the supply runs through the SPD's terminals, and only the earth lead counts."""

from dataclasses import replace

import pytest

from boardwright.board.arrange import arrange
from boardwright.board.results import Arrangement, Scheme
from boardwright.catalogue.devices import DeviceType
from boardwright.core.findings import Verdict
from boardwright.design import Variant, design
from boardwright.job.job import Job
from boardwright.wiring.layout import Layout
from boardwright.wiring.results import Wiring
from boardwright.wiring.through import why_not_through
from boardwright.wiring.wire import wire
from tests.board.boards import catalogue
from tests.board.homes import edition, home, planned, spd_for, wishing

BOX = catalogue().enclosures["ostrey-box-4"]


def _box(job: Job, **changed: object) -> Arrangement:
    """Return the cottage's SPD in a box; ``changed`` are fields of its data."""
    found = arrange(planned(job, Scheme.SEPARATE_BOX, BOX.id), job.wishes)
    (placement,) = found.placements
    device: DeviceType = placement.item.device
    assert device.spd is not None
    spd = device.spd.model_copy(update=changed)
    item = replace(placement.item, device=device.model_copy(update={"spd": spd}))
    return replace(found, placements=(replace(placement, item=item),))


def _wired(lead_m: float, **changed: object) -> Wiring:
    job = wishing(home("cottage"), separate_box_lead_m=lead_m, spd="ostrey-s12")
    return wire(_box(job, **changed), job, spd_for(job, BOX), edition())


def test_it_is_used_where_it_brings_the_leads_within_a_limit() -> None:
    """BS 7671, 534.4.8, as reference/surge.md tells it: 0.5 m preferred, 1 m at most."""
    leads = _wired(0.2).spd_leads

    assert leads is not None
    assert leads.v_wired
    assert (leads.line_m, leads.neutral_m) == (0.0, 0.0)
    assert leads.total_m == leads.pe_m <= 0.5


def test_only_the_part_in_parallel_counts() -> None:
    """The earth lead is counted in full: from the SPD to its bar, and on to the board as found."""
    wiring = _wired(0.2)
    earth = [c for c in wiring.conductors if c.function == "PE"]

    assert wiring.spd_leads is not None
    routed_m = sum(c.route_mm for c in earth) / 1000 + 0.2
    assert wiring.spd_leads.pe_m == pytest.approx(routed_m, abs=0.03)


def test_the_supply_passes_the_terminals_and_no_lead_is_left() -> None:
    joined = {frozenset(c.terminals) for c in _wired(0.2).conductors if c.function != "PE"}

    assert joined == {
        frozenset({"meter.L", "spd.L"}),
        frozenset({"spd.L-thru", "board.L"}),
        frozenset({"meter.N", "spd.N"}),
        frozenset({"spd.N-thru", "board.N"}),
    }


def test_the_tails_keep_their_size_and_every_conductor_has_a_step() -> None:
    wiring = _wired(0.2)

    tails = [c for c in wiring.conductors if c.id.startswith("tail-")]
    assert {c.csa_mm2 for c in tails} == {home("cottage").supply.tails.csa_mm2}
    assert all(c.step for c in wiring.conductors)


def test_it_is_left_alone_where_it_clears_nothing() -> None:
    leads = _wired(0.8).spd_leads

    assert leads is not None
    assert not leads.v_wired
    assert leads.total_m > 1.0


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"through_current_a": 63.0}, "its terminals carry 63 A, the fuse ahead is 80 A"),
        ({"through_current_a": 0.0}, "no through terminals"),
        ({"through_current_a": 80.0}, ""),
    ],
)
def test_the_terminals_must_carry_what_the_fuse_ahead_lets_through(
    changed: dict[str, float], why: str
) -> None:
    job = home("cottage")

    said = why_not_through(Layout(_box(job, **changed)), job, 25.0)

    assert why in said
    assert bool(why) is bool(said)


def test_the_terminals_must_take_the_tails() -> None:
    job = home("cottage")

    assert why_not_through(Layout(_box(job)), job, 25.0) == ""
    assert "35 mm²" in why_not_through(Layout(_box(job)), job, 35.0)


def test_an_spd_inside_the_board_is_not_wired_so() -> None:
    job = home("cottage")
    found = arrange(planned(job), job.wishes)

    assert why_not_through(Layout(found), job, 25.0)


def _separate(lead_m: float) -> Variant:
    job = wishing(home("cottage"), separate_box_lead_m=lead_m)
    made = design(job, catalogue(), edition())
    return next(v for v in made.variants if v.scheme is Scheme.SEPARATE_BOX)


def test_the_findings_say_what_it_did_and_what_it_would_leave() -> None:
    near, far = _separate(0.2), _separate(0.8)

    (cleared,) = [f for f in near.findings if f.check == "spd.leads"]
    (place,) = [f for f in near.findings if f.check == "spd.place"]
    (failed,) = [f for f in far.findings if f.check == "spd.leads"]
    assert cleared.verdict is Verdict.PASS
    assert place.verdict is Verdict.PASS
    assert failed.verdict is Verdict.FAIL
    assert far.wiring.spd_leads is not None
    assert f"V wiring leaves {far.wiring.spd_leads.pe_m:.2f} m" in failed.remedy
