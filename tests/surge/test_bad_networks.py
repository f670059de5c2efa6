"""Networks that cannot be: one sentence each, whatever was written where."""

import copy
import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from typer.testing import CliRunner

from boardwright.cli import app
from boardwright.core.errors import BoardwrightError
from boardwright.surge.elements import Branch, Line
from boardwright.surge.network import read_network
from boardwright.surge.report import as_json
from boardwright.surge.solver import Solution
from boardwright.surge.waves import solve_waves
from tests.surge.drawn import drawn
from tests.surge.rig import BUS, EARTH, FAR, generator, net, single, spd

NETWORK = net(
    generator(),
    *spd(imax_a=10e3),
    single("cable", BUS, FAR, 10.0),
    Branch("load", FAR, EARTH, 50.0, 0.0),
)
STRANGE = [
    0, -1, 1e308, -1e308, 1e-308, 5e-324, 1e30, 1e-30, float("nan"), float("inf"), 10**400, None,
    True, "", "1.0", [], {}, [[1]], {"kind": "x"},
]  # fmt: skip


def _with(name: str, field: str, value: object) -> str:
    data = json.loads(NETWORK.to_json())
    element = next(item for item in data["elements"] if item["name"] == name)
    element[field] = value
    return json.dumps(data)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (_with("cable", "length_m", 0.0), r"cable\.length_m: found 0\.0, expected a number over 0"),
        (_with("cable", "length_m", 1e30), r"cable\.length_m: found 1e\+30, expected a size from"),
        (_with("cable", "c_f_per_m", [[1.0]]), r"length_m: found 10\.0, expected a cable that a"),
        (_with("cable", "l_h_per_m", [[-1e-7]]), r"cable\.l_h_per_m: .* mutual inductances below"),
        (_with("load", "r_ohm", 1e-30), r"load\.r_ohm: found 1e-30, expected 0 or a size from"),
        (
            _with("load", "r_ohm", -3.0),
            r"load\.r_ohm: found -3\.0, expected a number of at least 0",
        ),
        (_with("load", "r_ohm", float("nan")), r"load|r_ohm: found nan, expected a finite number"),
        (
            _with("surge", "charge_v", 1e300),
            r"surge\.charge_v: found 1e\+300, expected 0 or a size",
        ),
        (_with("SPD own", "u0_v", -1e200), r"SPD own\.u0_v: found -1e\+200, expected 0 or a size"),
        (
            _with("SPD", "curve", {"kind": "points", "points": []}),
            r"curve\.points: found \(\), expected at least two points",
        ),
        (
            _with("SPD", "curve", {"kind": "points", "points": [[1e-3, 430.0], [1.0, 420.0]]}),
            r"curve\.points: found \(1\.0, 420\.0\), expected more current and more voltage than",
        ),
        (
            _with("SPD", "curve", {"kind": "log polynomial", "b1": 500, "b2": 1, "b3": 0, "b4": 0}),
            r"curve at 1e-06 A, u_v: found inf, expected a size",
        ),
        ("", "valid JSON"),
        ("\x00", "valid JSON"),
        ("[]", "network: found"),
        ('{"reference":' + "[" * 5000, "JSON"),
    ],
)
def test_what_cannot_be_is_refused_by_its_field(text: str, sentence: str) -> None:
    with pytest.raises(BoardwrightError, match=sentence) as caught:
        solve_waves(read_network(text), 1e-6)

    assert "\n" not in str(caught.value)


def _answer(text: str) -> Solution | str:
    try:
        return solve_waves(read_network(text), 0.2e-6)
    except BoardwrightError as error:
        return str(error)


def _numbers(data: object, path: tuple[object, ...] = ()) -> list[tuple[object, ...]]:
    items = data.items() if isinstance(data, dict) else enumerate(data)  # type: ignore[arg-type]
    found: list[tuple[object, ...]] = []
    for key, value in items:
        if isinstance(value, dict | list):
            found += _numbers(value, (*path, key))
        found.append((*path, key))
    return found


_PLAIN = json.loads(NETWORK.to_json())
_PLACES = _numbers(_PLAIN)


@settings(max_examples=150, deadline=None)
@given(place=st.sampled_from(_PLACES), value=st.sampled_from(STRANGE))
def test_a_strange_value_anywhere_is_solved_or_refused_in_a_sentence(
    place: tuple[str | int, ...], value: object
) -> None:
    data = copy.deepcopy(_PLAIN)
    at = data
    for key in place[:-1]:
        at = at[key]
    at[place[-1]] = value
    answer = _answer(json.dumps(data))
    if isinstance(answer, Solution):
        assert np.isfinite(answer.states).all()
        json.loads(as_json(answer), parse_constant=pytest.fail)
    else:
        assert "\n" not in answer
        assert len(answer) < 600


def test_every_drawn_network_is_read_back() -> None:
    for seed in range(30):
        assert read_network(drawn(seed).to_json()) == drawn(seed)
        assert any(isinstance(item, Branch | Line) for item in drawn(seed).elements)


@pytest.mark.parametrize("text", ["", "{", "nonsense", '{"reference": ["a", "L"]}', "[[[["])
def test_the_command_prints_a_sentence_and_no_traceback(tmp_path: Path, text: str) -> None:
    file = tmp_path / "network.json"
    file.write_text(text)

    done = CliRunner().invoke(app, ["surge", "--network", str(file)])

    assert isinstance(done.exception, BoardwrightError)
    assert "\n" not in str(done.exception)


def test_a_surge_beyond_the_part_is_said_first(tmp_path: Path) -> None:
    file = tmp_path / "network.json"
    data = json.loads(NETWORK.to_json())
    data["elements"][0]["charge_v"] = 54e3
    file.write_text(json.dumps(data))

    done = CliRunner().invoke(app, ["surge", "--network", str(file), "--end-s", "30e-6"])

    assert done.exit_code == 0
    assert done.output.startswith("The surge drives more current through a varistor")
    assert "Estimated numerical error at the worst node" in done.output
