"""Conventional socket circuits: floor areas and spurs.

Areas: The Electrician's Guide, section 6.3.3; spurs: Electrical Installation Work, 5th edition,
p. 272. Older texts print 20 and 50 m² for radials; the newer figures are kept.
"""

import pytest

from boardwright.circuits.judged_sockets import floor_area, ring_spurs
from boardwright.core.findings import Verdict
from tests.circuits.build import home, planned, raw_circuit, site


def _floor(area_m2: float, in_a: float, topology: str) -> Verdict:
    circuit = raw_circuit(topology=topology, wanted={"in_a": in_a}, load={"area_m2": area_m2})
    job = home([circuit])
    found = floor_area(job.circuits[0], planned(job).circuits[0], site(job))
    assert found is not None
    return found.verdict


@pytest.mark.parametrize(
    ("topology", "in_a", "most_m2"), [("ring", 32, 100), ("radial", 20, 50), ("radial", 32, 75)]
)
def test_floor_areas(topology: str, in_a: float, most_m2: float) -> None:
    assert _floor(most_m2, in_a, topology) is Verdict.PASS
    assert _floor(most_m2 + 0.1, in_a, topology) is Verdict.ADVISE


@pytest.mark.parametrize(
    ("points", "spurs", "expected"), [(10, 5, Verdict.PASS), (10, 6, Verdict.FAIL)]
)
def test_no_more_spurs_than_points_on_the_ring(points: int, spurs: int, expected: Verdict) -> None:
    """Ten outlets of which five hang on spurs leave five on the ring."""
    job = home([raw_circuit(topology="ring", load={"points": points, "spurs": spurs})])
    found = ring_spurs(job.circuits[0], planned(job).circuits[0], site(job))

    assert found is not None
    assert found.verdict is expected


def test_what_was_not_counted_is_not_judged() -> None:
    job = home([raw_circuit(topology="ring", load={"points": 8})])
    circuit, result = job.circuits[0], planned(job).circuits[0]

    assert ring_spurs(circuit, result, site(job)) is None
    assert floor_area(circuit, result, site(job)) is None
