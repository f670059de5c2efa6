"""The division proposed: what the rules forbid goes last, and each reason is told."""

from typing import Any

from boardwright.circuits.propose import Prices, Proposal, propose
from tests.circuits.build import EDITION, NOTHING, home, raw_circuit

PRICES = Prices(rcbo_gbp=24.5, mcb_gbp=3.8, rccbs_gbp={63: 28.0})


def _home(count: int, in_a: float) -> list[dict[str, Any]]:
    return [raw_circuit(id=f"c{n}", name=f"C{n}", wanted={"in_a": in_a}) for n in range(count)]


def _proposed(
    circuits: list[dict[str, Any]],
    fuse_a: float | None = 100,
    **changes: Any,  # noqa: ANN401 - a survey's raw values
) -> Proposal:
    supply = {**changes.pop("supply", {}), "cutout_fuse_a": fuse_a}
    return propose(home(circuits, supply=supply, **changes), NOTHING, EDITION, PRICES)


def test_sections_behind_a_larger_fuse_are_forbidden() -> None:
    """3 x 32 A on 63 A behind 100 A: trade association's bulletin on overload of RCCBs, 2019."""
    rings = [raw_circuit(id=f"r{n}", topology="ring", wanted={"in_a": 32}) for n in range(6)]
    proposal = _proposed(rings)

    assert proposal.proposed.kind == "RCBO on every way"
    assert len(proposal.options[1].broken) == 2
    assert all("536.4.202" in sentence for sentence in proposal.options[1].broken)
    assert not _proposed(rings, fuse_a=60).options[1].broken


def test_the_least_rccb_that_the_fuse_covers_is_taken() -> None:
    """96 A of devices behind 100 A: an RCCB of 100 A is covered (bulletin of 2019, method 2)."""
    rings = [raw_circuit(id=f"r{n}", topology="ring", wanted={"in_a": 32}) for n in range(6)]
    offered = Prices(24.5, 3.8, {63: 28.0, 80: 33.0, 100: 52.0})
    options = propose(home(rings), NOTHING, EDITION, offered).options
    split = next(option for option in options if option.kind == "split load")

    assert split.broken == ()
    assert split.cost_gbp == 6 * 3.8 + 2 * 52


def test_cost_is_the_sum_of_the_devices() -> None:
    """Six circuits: 6 x 24.50; or 6 x 3.80 and two RCCBs of 28.00."""
    by_kind = {option.kind: option.cost_gbp for option in _proposed(_home(6, 16)).options}

    assert by_kind == {"RCBO on every way": 147.0, "split load": 22.8 + 56.0}


def test_without_prices_no_cost_is_told() -> None:
    job = home(_home(4, 16))
    unpriced = propose(job, NOTHING, EDITION, Prices(24.5, None, {}))

    assert [option.cost_gbp for option in unpriced.options] == [98.0, None]
    assert not any("cost" in reason for reason in unpriced.reasons)


def test_each_circuit_is_named_once_with_those_it_goes_down_with() -> None:
    for option in _proposed(_home(5, 16)).options:
        assert sorted(name for group in option.down_together for name in group) == [
            f"C{n}" for n in range(5)
        ]


def test_many_rcbos_on_a_poor_electrode_speak_for_sections() -> None:
    """IET forum thread 24992: 10 x 30 mA want at most 167 Ω; two RCCBs want 833 Ω."""
    earth: dict[str, Any] = {"supply": {"system": "TT"}, "earthing": {"electrode_ohm": 180}}
    proposal = _proposed(_home(10, 6), **earth)

    assert proposal.proposed.kind == "split load"
    assert any("54 V" in reason for reason in proposal.reasons)
    earth["earthing"] = {"electrode_ohm": 160}
    assert _proposed(_home(10, 6), **earth).proposed.kind == "RCBO on every way"


def test_all_lights_on_one_rcd_speak_against_it() -> None:
    """314.1: one fault must not leave all in the dark; where wishes tie them, it is told."""
    lights = [raw_circuit("lighting", id=f"l{n}", wanted={"in_a": 6}) for n in range(2)]
    wishes = {"keep_together": [["l0", "l1"]]}
    option = next(
        o
        for o in _proposed([*lights, *_home(2, 16)], wishes=wishes).options
        if o.kind != "RCBO on every way"
    )

    assert any("all lights" in sentence for sentence in option.against)
