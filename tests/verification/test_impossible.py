"""What no one should build is a finding with its clause, not an error, on the whole path."""

from typing import Any

import pytest

from boardwright.catalogue.load import load_catalogue
from boardwright.core.findings import Verdict
from boardwright.design import design
from boardwright.verification.circuits import cable_agrees_with_readings
from boardwright.verification.rcd import type_suits
from tests.circuits.build import EDITION, Raw, home, raw_circuit
from tests.verification.circuit_facts import facts, found

_SWA = {"type": "swa 90", "line_mm2": 6, "cpc_mm2": 6, "length_m": 12, "method": "C"}
_THIN = {"line_mm2": 1.5, "cpc_mm2": 1.0, "length_m": 40, "method": "C"}


@pytest.mark.parametrize(
    ("circuit", "check", "clause"),
    [
        (
            raw_circuit("sockets", topology="ring", cable=_THIN, wanted={"in_a": 32}),
            "circuit.overload",
            "433.1.204",
        ),
        (
            raw_circuit(
                "EV point",
                cable=_SWA,
                load={"ib_a": 32},
                ev={"dc_detection": "no"},
                wanted={"in_a": 40, "rcd_type": "A"},
            ),
            "ev.dc",
            "722.531.3.101",
        ),
        (
            raw_circuit("shower", load={"power_w": 10_500}, wanted={"in_a": 32}),
            "circuit.overload",
            "433.1.1",
        ),
        (
            raw_circuit(
                "sockets", existing=False, cable={**_THIN, "cpc_mm2": 0}, wanted={"in_a": 16}
            ),
            "circuit.zs",
            "411.3.1.1",
        ),
        (
            raw_circuit("cooker", wanted={"in_a": 63, "curve": "D", "standard": "MCB"}),
            "circuit.zs",
            "411.4.4",
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_it_fails_by_its_clause(circuit: Raw, check: str, clause: str) -> None:
    result = design(home([circuit]), load_catalogue(), EDITION)
    failing = [f for f in result.findings if f.check == check and f.verdict is Verdict.FAIL]

    assert [f.subject_id for f in failing] == [circuit["id"]]
    assert clause in failing[0].rule.clause
    assert failing[0].remedy


def test_an_rcbo_of_type_ac_on_a_charging_point_is_told_and_not_built() -> None:
    """531.3.3: type AC is for fixed equipment known to hold no DC component alone."""
    declared = {"dc_detection": "yes", "pen_protection": "yes", "outdoors": "yes"}
    wanted = {"in_a": 40, "rcd_type": "AC"}
    point = raw_circuit("EV point", cable=_SWA, load={"ib_a": 32}, wanted=wanted, ev=declared)
    result = design(home([point]), load_catalogue(), EDITION)
    (finding,) = (f for f in result.findings if f.check == "rcd.type")
    fitted = {item.device.rcd_type for item in result.chosen.board.items if item.circuit_id}

    assert finding.verdict is Verdict.ADVISE
    assert "531.3.3" in finding.rule.clause
    assert "AC" not in fitted
    assert found(type_suits, facts(home([point]))).verdict is Verdict.FAIL


def test_many_wrongs_are_each_told_once() -> None:
    """A ring of 1.5 mm², three hundred metres, without a cpc of its own size, on 40 A type D."""
    wrong: dict[str, Any] = {
        "topology": "ring",
        "cable": {"line_mm2": 1.5, "cpc_mm2": 1.0, "length_m": 300, "method": "103"},
        "load": {"ib_a": 38},
        "wanted": {"in_a": 40, "curve": "D", "rcd_type": "AC"},
    }
    result = design(home([raw_circuit(**wrong)]), load_catalogue(), EDITION)
    mine = [f.check for f in result.findings if f.subject_id == "sockets"]

    assert {"circuit.overload", "circuit.volt_drop", "rcd.type"} <= set(mine)
    assert len(mine) == len(set(mine))


@pytest.mark.parametrize(("cpc_mm2", "told"), [(1.5, False), (2.5, False), (10, True)])
def test_a_cpc_larger_than_its_line_is_doubted(cpc_mm2: float, told: bool) -> None:  # noqa: FBT001 - a column
    """Guide to the Wiring Regulations, Table 4.3: a flat cable's cpc is no larger than its line."""
    cable = {"line_mm2": 2.5, "cpc_mm2": cpc_mm2, "length_m": 15, "method": "C"}
    found_of = cable_agrees_with_readings(facts(home([raw_circuit(cable=cable)])))

    assert [f.check for f in found_of] == ["circuit.pair"] * told
