"""The network as data: written, read back, and refused with a sentence."""

import json

import pytest

from boardwright.core.errors import BoardwrightError, FieldError
from boardwright.surge.curves import LogPoints, LogPolynomial
from boardwright.surge.elements import (
    Branch,
    Capacitor,
    CoupledBranches,
    CurrentSource,
    Gap,
    Generator,
    Line,
    Node,
    Varistor,
)
from boardwright.surge.lumped import lumped
from boardwright.surge.network import SurgeNetwork, read_network
from boardwright.surge.waveforms import GENERATOR_A, first_stroke_10x350

EARTH, LINE, TAP, FAR = (Node("rig", name) for name in ("PE", "L", "N", "L2"))
PAIR = ((1e-6, 0.5e-6), (0.5e-6, 1e-6))
NETWORK = SurgeNetwork(
    EARTH,
    (
        Generator("surge", LINE, EARTH, GENERATOR_A, 6500.0),
        CurrentSource("stroke", LINE, EARTH, first_stroke_10x350(1000.0)),
        Branch("lead", LINE, TAP, 1e-3, 0.5e-6),
        CoupledBranches("tails", (LINE, TAP), (FAR, Node("far", "N")), (1e-3, 1e-3), PAIR),
        Capacitor("filter", FAR, EARTH, 10e-9),
        Varistor("SPD", TAP, EARTH, LogPolynomial(2.71, 0.023, -4e-4, 3.6e-3), 40e3),
        Varistor("second", FAR, EARTH, LogPoints(((1e-3, 430.0), (1e3, 720.0)))),
        Gap("gap", FAR, EARTH, 1500.0, 25.0, 5e-3),
        Line("cable", (FAR,), (Node("end", "L"),), 20.0, 0.02, ((0.5e-6,),), ((5e-11,),)),
    ),
)


def test_every_element_kind_is_read_back() -> None:
    assert read_network(NETWORK.to_json()) == NETWORK


def _edited(at: int, **changes: object) -> str:
    data = json.loads(NETWORK.to_json())
    data["elements"][at].update(changes)
    return json.dumps(data)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("{", "valid JSON"),
        ("[" * 20_000, "valid JSON"),
        ("3", "network: found 3"),
        (_edited(8, length_m=0.0), r"cable\.length_m: found 0\.0, expected a number over 0"),
        (
            _edited(8, length_m="20"),
            r"elements\.8\.line\.length_m: found '20', expected a valid number",
        ),
        (_edited(8, length_m=float("nan")), r"length_m: found nan, expected a finite number"),
        (
            _edited(8, lenght_m=3.0),
            r"elements\.8\.line\.lenght_m: found 3\.0, expected no such field",
        ),
        (_edited(8, kind="wire"), r"elements\.8: .* expected a kind among 'branch'"),
        (
            _edited(6, curve={"kind": "points", "points": []}),
            r"curve\.points: found \(\), expected at least two",
        ),
        (
            _edited(2, r_ohm=0.0, l_h=0.0),
            r"lead\.r_ohm: found 0, expected a resistance or an inductance",
        ),
        (_edited(2, b=["rig", "L"]), r"lead\.b: found 'rig:L', expected another node"),
        (_edited(4, c_f=-1e-9), r"filter\.c_f: found -1e-09, expected a number over 0"),
        (
            _edited(3, l_h=[[1e-6, 2e-6], [2e-6, 1e-6]]),
            r"tails\.l_h: .* expected mutual inductances below",
        ),
        (_edited(3, l_h=[[1e-6, 0.0], [0.5e-6, 1e-6]]), r"tails\.l_h: .* symmetrical"),
        (_edited(3, r_ohm=[1e-3]), r"tails\.far: "),
        (_edited(5, name="lead"), r"elements\.name: found 'lead', expected a name of its own"),
        (
            _edited(4, a=["island", "L"], b=["island", "N"]),
            r"found 'island:L', expected every node joined",
        ),
        (
            NETWORK.to_json().replace('"schema_version": 1', '"schema_version": 9'),
            "schema_version: found 9",
        ),
    ],
)
def test_a_bad_network_is_refused_in_one_sentence(text: str, sentence: str) -> None:
    with pytest.raises(BoardwrightError, match=sentence) as caught:
        read_network(text)

    assert "\n" not in str(caught.value)


def test_a_missing_field_is_named() -> None:
    data = json.loads(NETWORK.to_json())
    del data["elements"][8]["length_m"]

    with pytest.raises(
        FieldError, match=r"elements\.8\.line\.length_m: found None, expected a value"
    ):
        read_network(json.dumps(data))


def test_a_loop_without_resistance_is_refused() -> None:
    bare = [Branch(name, LINE, EARTH, 0.0, 1e-6) for name in ("one", "two")]

    with pytest.raises(FieldError, match=r"two\.r_ohm: .* closes a loop without resistance"):
        SurgeNetwork(EARTH, tuple(bare))


def test_a_part_can_be_taken_out() -> None:
    without = NETWORK.without("SPD", "gap")

    assert {element.name for element in NETWORK.elements} - {
        element.name for element in without.elements
    } == {"SPD", "gap"}


def test_a_lumped_line_keeps_its_totals() -> None:
    """Sections divide a line's inductance and capacitance and lose nothing of them."""
    parts = lumped(NETWORK).elements
    series = [part for part in parts if isinstance(part, CoupledBranches) and "cable" in part.name]
    shunt = [part for part in parts if isinstance(part, Capacitor) and "cable" in part.name]

    assert len(series) == 4
    assert sum(part.l_h[0][0] for part in series) == pytest.approx(20 * 0.5e-6)
    assert sum(part.r_ohm[0] for part in series) == pytest.approx(20 * 0.02)
    assert sum(part.c_f for part in shunt) == pytest.approx(20 * 5e-11)
    assert not [part for part in parts if isinstance(part, Line | Generator)]
