"""The division of a home over its RCDs."""

from itertools import combinations

from boardwright.circuits.results import CircuitResult
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


def test_another_weight_divides_otherwise() -> None:
    """Two of one purpose and a large one: either the two are apart, or the loads are even."""
    circuits = [raw_circuit(id="a"), raw_circuit(id="b"), raw_circuit("shower", id="c")]

    usual = _split(circuits)
    even = _split(circuits, preferences={"like_split": 0})

    assert not any({"a", "b"} <= half for half in usual)
    assert any({"a", "b"} <= half for half in even)


def test_no_other_division_pays_less() -> None:
    """Every division of seven circuits, priced from the words of docs/arrangement.md."""
    serves = ("lighting", "lighting", "sockets", "sockets", "shower", "cooker", "sockets")
    circuits = [
        raw_circuit(purpose, id=f"c{n}", appliances=[{"id": f"kit-{n}", "kind": "kit"}] * (n % 3))
        if n % 3 < 2
        else raw_circuit(purpose, id=f"c{n}")
        for n, purpose in enumerate(serves)
    ]
    wishes = {"division": "split load", "keep_apart": [["c4", "c5"]]}
    plan = planned(home(circuits, wishes=wishes), leaking(2.5e-3))
    of: dict[str, CircuitResult] = {circuit.id: circuit for circuit in plan.circuits}
    names = sorted(of)

    def paid(first: set[str]) -> int:
        halves = (first, set(names) - first)
        purpose = dict(zip(names, serves, strict=True))
        alike = sum(
            purpose[a] == purpose[b] for half in halves for a, b in combinations(sorted(half), 2)
        )
        load, leakage = (
            abs(sum(amount[n] * (1 if n in first else -1) for n in names))
            for amount in ({n: of[n].in_a for n in names}, {n: of[n].leakage_a for n in names})
        )
        apart = sum({"c4", "c5"} <= half for half in halves)
        # One RCD bears 63 A, and standing leakage of three tenths of its 30 mA.
        return 1000 * apart + 300 * alike + round(100 * leakage / 9e-3) + round(100 * load / 63)

    every = (set(chosen) for size in range(8) for chosen in combinations(names, size))

    assert plan.division_proven
    assert sum(wish.weight * wish.amount for wish in plan.division) == min(map(paid, every))
