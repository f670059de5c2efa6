"""The division of a home over its RCDs."""

from tests.circuits.build import Raw, home, leaking, planned, raw_circuit


def _homes_circuits() -> list[Raw]:
    return [
        raw_circuit("lighting", id="lights-a"),
        raw_circuit("lighting", id="lights-b"),
        raw_circuit(id="ring-a", topology="ring"),
        raw_circuit(id="ring-b", topology="ring"),
        raw_circuit("shower"),
        raw_circuit("cooker"),
    ]


def _split(circuits: list[Raw], **wishes: object) -> list[set[str]]:
    job = home(circuits, wishes={"division": "split load", **wishes})
    return [set(section.circuit_ids) for section in planned(job).sections]


def test_rcbos_on_every_way_need_no_sections() -> None:
    assert planned(home(_homes_circuits())).sections == ()


def test_lights_and_rings_are_dealt_to_both_halves() -> None:
    first, second = _split(_homes_circuits())

    assert len(first & {"lights-a", "lights-b"}) == 1
    assert len(first & {"ring-a", "ring-b"}) == 1
    assert len(second & {"shower", "cooker"}) == 1
    assert first | second == {str(c["id"]) for c in _homes_circuits()}


def test_what_is_wanted_together_stays_together() -> None:
    halves = _split(_homes_circuits(), keep_together=[["lights-a", "lights-b"]])

    assert any({"lights-a", "lights-b"} <= half for half in halves)


def test_what_is_wanted_apart_stands_apart() -> None:
    halves = _split(_homes_circuits(), keep_apart=[["lights-a", "ring-a"]])

    assert not any({"lights-a", "ring-a"} <= half for half in halves)


def test_circuits_on_one_neutral_stay_behind_one_rcd() -> None:
    circuits = _homes_circuits()
    circuits[0]["readings"] = {"shares_neutral_with": "lights-b"}

    assert any({"lights-a", "lights-b"} <= half for half in _split(circuits))


def test_a_charging_point_shares_no_rcd() -> None:
    circuits = [*_homes_circuits(), raw_circuit("EV point")]
    plan = planned(home(circuits, wishes={"division": "split load"}))

    assert not any("ev-point" in section.circuit_ids for section in plan.sections)
    assert plan.circuit("ev-point").protection.standard == "RCBO"


def test_leakage_is_added_up_in_each_half() -> None:
    circuits = [
        raw_circuit(id=f"c{n}", appliances=[{"id": f"kit-{n}", "kind": "kit"}]) for n in range(4)
    ]
    plan = planned(home(circuits, wishes={"division": "split load"}), leaking(3.5e-3))

    assert [round(section.leakage_a, 6) for section in plan.sections] == [7e-3, 7e-3]
