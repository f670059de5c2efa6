"""A three-phase home is studied line by line: what hangs on another line is no load of this one."""

from dataclasses import replace

import pytest

from boardwright.documents.surge.home import homes_of, line_of
from boardwright.surge.assumptions import load_assumptions
from boardwright.surge.study import LeadRule, study, study_lines
from tests.documents.golden import example

ASSUMED, RULE = load_assumptions(), LeadRule(1000.0)


def test_each_appliance_hangs_on_its_own_line_and_no_circuit_on_two() -> None:
    design = example("three-phase")
    homes = homes_of(design)
    names = [circuit.name for home in homes.values() for circuit in home.circuits]
    by_phase = {
        circuit.name: design.plan.circuit(circuit.id).phase for circuit in design.job.circuits
    }

    assert set(homes) == {"L1", "L2"}
    assert len(names) == len(set(names))
    for line, home in homes.items():
        assert {by_phase[circuit.name] for circuit in home.circuits} == {line}
        assert home.studied
    assert line_of(design, "Heat pump")[0] == "L1"
    assert line_of(design, "EV charging point")[0] == "L2"


def test_a_one_phase_home_has_one_line_and_the_study_it_always_had() -> None:
    homes = homes_of(example("flat"))

    assert list(homes) == ["L"]
    assert study_lines(homes, ASSUMED, RULE) == study(homes["L"], ASSUMED, RULE)


def test_the_board_counts_at_its_worst_line_and_the_caution_says_one_at_a_time() -> None:
    homes = homes_of(example("three-phase"))
    each = {line: study(home, ASSUMED, RULE) for line, home in homes.items()}
    found = study_lines(homes, ASSUMED, RULE)
    boards = [one.places[0].with_spd_v for one in each.values()]

    assert found.places[0].with_spd_v == max(boards, key=lambda band: band.p95_v if band else 0.0)
    assert [place.line for place in found.places] == ["", "L1", "L2", "L2"]
    assert {place.place: place.with_spd_v for place in found.places[1:]} == {
        place.place: place.with_spd_v for one in each.values() for place in one.places[1:]
    }
    assert "One line at a time" in found.cautions[-1]
    assert "L1, L2" in found.method


def test_a_three_phase_circuit_loads_each_line_and_is_studied_on_the_first() -> None:
    design = example("three-phase")
    circuits = tuple(
        circuit.model_copy(update={"phases": 3}) if circuit.id == "heat-pump" else circuit
        for circuit in design.job.circuits
    )
    job = design.job.model_copy(update={"circuits": circuits})
    homes = homes_of(replace(design, job=job))
    heat = {
        line: next(circuit for circuit in home.circuits if circuit.name == "Heat pump")
        for line, home in homes.items()
    }

    assert heat["L1"].appliance is not None
    assert heat["L2"].appliance is None


@pytest.mark.parametrize("place", ["", "board", "no such place"])
def test_without_a_place_the_line_is_that_of_the_equipment_nearest_to_its_withstand(
    place: str,
) -> None:
    design = example("three-phase")
    others = design.chosen.study.places[1:]
    bands = {each.line: 0.0 for each in others}
    for each in others:
        assert each.with_spd_v is not None
        bands[each.line] = max(bands[each.line], each.with_spd_v.p95_v / each.uw_v)

    assert line_of(design, place)[0] == max(bands, key=lambda line: bands[line])
