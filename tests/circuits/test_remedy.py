"""A remedy that is offered really clears what was found, by the same checks as the finding."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from boardwright.circuits.judged import OPEN, open_findings
from boardwright.circuits.remedy import MOST, remedies
from boardwright.circuits.site import Site
from boardwright.job.circuit import Circuit
from boardwright.verification.circuits import method_known, overload, volt_drop
from boardwright.verification.circuits_fault import (
    loop_disconnects,
    protective_conductor_survives,
)
from tests.circuits.build import raw_circuit
from tests.circuits.test_reverse import circuits, placed
from tests.verification.circuit_facts import facts

CALM = settings(deadline=None, derandomize=True, max_examples=80)
CHECKS = (overload, method_known, volt_drop, loop_disconnects, protective_conductor_survives)


def _open_by_checks(circuit: Circuit, here: Site) -> set[str]:
    """Run the checks of the whole design over the circuit alone in its home."""
    job = here.job.model_copy(update={"circuits": (circuit,)})
    given_facts = replace(facts(job), catalogue=here.catalogue)
    return {f.check for run in CHECKS for f in run(given_facts) if f.verdict in OPEN}


@CALM
@given(circuits())
def test_every_remedy_clears_every_finding(drawn: tuple[Circuit, Site]) -> None:
    circuit, here = drawn
    offered = remedies(circuit, here)

    assert len(offered) <= MOST
    assert bool(_open_by_checks(circuit, here)) is bool(open_findings(circuit, here))
    for remedy in offered:
        assert _open_by_checks(remedy.circuit, here) == set()
        assert {f.check for f in remedy.settles} == {f.check for f in open_findings(circuit, here)}


@CALM
@given(circuits())
def test_the_cheapest_stands_first_and_none_holds_another(drawn: tuple[Circuit, Site]) -> None:
    offered = remedies(*drawn)
    hours = [remedy.work_h for remedy in offered]

    assert hours == sorted(hours)
    for remedy in offered:
        others = [set(other.kinds) for other in offered if other is not remedy]
        assert not any(other <= set(remedy.kinds) for other in others)


@CALM
@given(circuits())
def test_a_circuit_with_nothing_open_is_left_alone(drawn: tuple[Circuit, Site]) -> None:
    circuit, here = drawn

    assert open_findings(circuit, here) or remedies(circuit, here) == ()


def test_no_remedy_takes_an_rcd_away() -> None:
    circuit, here = placed(
        serves="sockets", wanted={"in_a": 40, "standard": "RCBO"}, load={"ib_a": 18}
    )

    for remedy in remedies(circuit, here):
        assert remedy.result.protection.standard == "RCBO"


def test_a_shower_over_its_cable() -> None:
    """9.5 kW on 6 mm² by method 100 (34 A, Table 4D5): re-lay, accept less, or renew."""
    cable = {"line_mm2": 6, "cpc_mm2": 2.5, "length_m": 15, "method": "100"}
    circuit, here = placed(
        serves="shower", load={"power_w": 9500}, wanted={"in_a": 45}, cable=cable
    )
    offered = remedies(circuit, here)

    assert [(remedy.kinds, remedy.result.in_a) for remedy in offered] == [
        (("smaller load",), 32),
        (("out of insulation",), 45),
        (("larger cable",), 45),
    ]
    assert offered[0].does == ("Fit B32: keep the load to 32.0 A, 7.4 kW.",)
    assert offered[1].result.iz_a == 47
    assert offered[2].circuit.cable.line_mm2 == 10


@pytest.mark.parametrize(
    ("wanted", "kind"),
    [
        ({"in_a": 32, "curve": "C", "standard": "MCB"}, "lower curve"),
        ({"in_a": 30, "standard": "BS 3036"}, "RCBO"),
    ],
)
def test_a_high_loop_has_a_cheap_way_out(wanted: dict[str, object], kind: str) -> None:
    """4/1.5 mm², 25 m: Zs 0.85 Ω hot; C32 allows 0.68 and B32 1.37 (Table 41.3).

    Behind the fuse it is the cable: 41.4 A are asked of 37 A.
    """
    cable = {"line_mm2": 4, "cpc_mm2": 1.5, "length_m": 25, "method": "C"}
    # A fuse stays only where its board does.
    kept = {"existing_board": {"ways": 6}, "wishes": {"board": "keep"}}
    circuit, here = placed(load={"ib_a": 28}, wanted=wanted, cable=cable, around=kept)

    assert kind in {remedy.kinds[0] for remedy in remedies(circuit, here)}


def test_a_ring_of_thin_cable_is_split() -> None:
    """433.1.204 asks 2.5 mm² of a ring; two radials of it bear 20 A, method C (Table 4D5)."""
    ring = raw_circuit(
        topology="ring",
        wanted={"in_a": 32},
        cable={"line_mm2": 1.5, "cpc_mm2": 1.0, "length_m": 30, "method": "C"},
    )
    circuit, here = placed(**ring)
    kinds = {remedy.kinds for remedy in remedies(circuit, here)}

    assert ("ring split",) in kinds


def test_a_failing_finding_names_the_ways_that_were_tried() -> None:
    cable = {"line_mm2": 6, "cpc_mm2": 2.5, "length_m": 15, "method": "100"}
    circuit, here = placed(
        serves="shower", load={"power_w": 9500}, wanted={"in_a": 45}, cable=cable
    )
    (finding,) = overload(facts(here.job))

    assert finding.remedy == " Or: ".join(way.does[0] for way in remedies(circuit, here))
