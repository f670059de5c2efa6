"""RCCBs and overload: trade association's technical bulletin, edition 2, March 2019.

Cases of forum thread 171443, which quotes it.
"""

from typing import Any

import pytest

from boardwright.core.findings import Verdict
from boardwright.verification.rcd_overload import rccb_not_overloaded
from boardwright.verification.supply import fuse_known
from tests.circuits.build import home, raw_circuit
from tests.verification.circuit_facts import facts


def _worst(circuits: list[dict[str, Any]], fuse_a: float | None) -> Verdict:
    together = [[str(circuit["id"]) for circuit in circuits]]
    wishes = {"division": "split load", "keep_together": together}
    job = home(circuits, wishes=wishes, supply={"cutout_fuse_a": fuse_a})
    # Where nothing but the fuse ahead can cover it, an unknown fuse is told once for all.
    (finding,) = (*rccb_not_overloaded(facts(job)), *fuse_known(facts(job)))[:1]
    assert "536.4.202" in finding.rule.clause
    return finding.verdict


@pytest.mark.parametrize("fuse_a", [60, 80, 100, None])
def test_two_lighting_circuits_need_no_fuse_ahead(fuse_a: float | None) -> None:
    """2 x 6 A on 63 A, whatever the cut-out."""
    lights = [raw_circuit("lighting", id=f"l{n}", wanted={"in_a": 6}) for n in range(2)]

    assert _worst(lights, fuse_a) is Verdict.PASS


@pytest.mark.parametrize(
    ("fuse_a", "expected"),
    [(60, Verdict.PASS), (100, Verdict.FAIL), (None, Verdict.UNKNOWN)],
)
def test_three_rings_need_the_fuse(fuse_a: float | None, expected: Verdict) -> None:
    """3 x 32 = 96 A on 63 A: behind 100 A it fails, behind 60 A it does not."""
    rings = [raw_circuit(id=f"r{n}", topology="ring", wanted={"in_a": 32}) for n in range(3)]

    assert _worst(rings, fuse_a) is expected
