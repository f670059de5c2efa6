"""A ring's readings and an earth electrode on the command line: answers and bad input."""

import json
import sys
from collections.abc import Callable

import pytest

from boardwright.cli import main

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    def command(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["boardwright", *words])
        with pytest.raises(SystemExit) as ended:
            main()
        out, err = capsys.readouterr()
        return int(ended.value.code or 0), out, err

    return command


def test_a_ring_in_text_and_json(run: Run) -> None:
    """80 m of 2.5/1.5 mm²: 0.2964 Ω to neutral, 0.3677 to 0.3902 to earth (derivation sheet)."""
    words = ("ring", "--r1", "0.5928", "--rn", "0.5928", "--r2", "0.968", "--le", "0.37 0.39")
    code, text, _ = run(*words)
    told = json.loads(run(*words, "--json")[1])

    assert code == 0
    assert told["expected"]["length_m"] == pytest.approx(80)
    assert told["expected"]["line_neutral_ohm"] == pytest.approx(0.2964)
    assert told["expected"]["line_cpc_middle_ohm"] == pytest.approx(0.3902)
    assert {finding["verdict"] for finding in told["findings"]} == {"pass"}
    assert "0.30\N{NO-BREAK SPACE}Ω at every socket" in text
    assert text.count("Within") == len(told["findings"])


def test_an_electrode_in_text_and_json(run: Run) -> None:
    """One rod of 1.2 m reads 71.58 Ω in 100 Ω·m (BS 7430); 50 V over twice that are 349 mA."""
    words = ("electrode", "--reads", "71.58", "--rod", "1.2")
    code, text, _ = run(*words)
    told = json.loads(run(*words, "--json")[1])

    assert code == 0
    assert told["soil_ohm_m"] == pytest.approx(100, abs=0.01)
    assert told["largest_idn_a"] == pytest.approx(50 / (2 * 71.58))
    assert told["rods_needed"] == 1
    assert "349" in text


def test_other_kinds_of_electrode(run: Run) -> None:
    """A plate of 1 m² in 100 Ω·m: 44.31 Ω (BS 7430, from memory)."""
    plate = json.loads(run("electrode", "--soil", "100", "--plate", "1", "--json")[1])
    strip = json.loads(run("electrode", "--soil", "100", "--strip", "10", "--json")[1])
    poor = json.loads(run("electrode", "--soil", "900", "--rod", "1.2", "--json")[1])

    assert plate["electrode_ohm"] == pytest.approx(44.31, abs=0.005)
    assert strip["electrode_ohm"] < plate["electrode_ohm"]
    assert (plate["rods_needed"], strip["rods_needed"]) == (None, None)
    assert poor["finding"]["verdict"] == "fail"
    assert poor["rods_needed"] > 1


RING = ("ring", "--r1", "0.3", "--rn", "0.3")
ROD = ("electrode", "--rod", "1.2")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (RING, "--r2: found nothing"),
        ((*RING, "--r2", "0,5"), "Write 0.5 with a point"),
        ((*RING, "--r2", "-1"), "--r2: found -1"),
        ((*RING, "--r2", "nan"), "--r2: found nan"),
        ((*RING, "--r2", "0"), "--r2: found 0"),
        ((*RING, "--r2", "0.5", "--ln", "0.3 x"), "--ln: found 'x'"),
        ((*RING, "--r2", "0.5", "--size", "3"), "--size: found '3'"),
        (ROD, "--soil: found nothing"),
        ((*ROD, "--soil", "100", "--reads", "70"), "not both"),
        ((*ROD, "--soil", "wet"), "--soil: found 'wet'"),
        ((*ROD, "--soil", "100", "--rods", "2.5"), "--rods: found '2.5'"),
        ((*ROD, "--soil", "100", "--rods", "0"), "--rods: found '0'"),
        ((*ROD, "--soil", "100", "--rods", "3", "--spacing", "0.1"), "--spacing: found 0.1"),
        ((*ROD, "--soil", "100", "--diameter", "0"), "--diameter: found 0"),
        ((*ROD, "--soil", "100", "--idn", "30000"), "--idn: found 30000"),
        ((*ROD, "--soil", "100", "--plate", "1"), "--rod and --plate"),
        (("electrode", "--soil", "100"), "electrode: found nothing"),
        (("electrode", "--reads", "70", "--plate", "1"), "--reads: found '70'"),
        (("electrode", "--soil", "100", "--rod", "0.01", "--diameter", "16"), "--diameter: found"),
    ],
)
def test_bad_input_is_one_sentence_about_what_was_typed(
    run: Run, words: tuple[str, ...], said: str
) -> None:
    code, out, err = run(*words)

    assert (code, out) == (2, "")
    assert said in err
    assert err.count("\n") == 1
