"""One circuit on the command line: answers, backward questions, bad input."""

import json
import sys
from collections.abc import Callable

import pytest

from boardwright.cli import main

Run = Callable[..., tuple[int, str, str]]
SHOWER = ("shower", "--power", "9500", "--method", "C", "--device", "B45", "--ze", "0.35")


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    def command(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["boardwright", "circuit", *words])
        with pytest.raises(SystemExit) as ended:
            main()
        out, err = capsys.readouterr()
        return int(ended.value.code or 0), out, err

    return command


def test_the_reference_shower(run: Run) -> None:
    """Complete reference circuit: 41.304 A, 64 A, 2.726 V, 0.4659 Ω of 0.97 (Tables 4D5, 41.3)."""
    code, out, _ = run(*SHOWER, "--size", "10", "--length", "15", "--json")
    circuit = json.loads(out)["circuit"]

    assert code == 0
    assert circuit["ib_a"] == pytest.approx(41.304, abs=0.0005)
    assert circuit["iz_a"] == 64
    assert circuit["volt_drop_v"] == pytest.approx(2.726, abs=0.0006)
    assert circuit["zs_ohm"] == pytest.approx(0.4659, abs=0.00006)
    assert circuit["zs_max_ohm"] == pytest.approx(0.97, abs=0.005)


def test_text_and_json_say_the_same(run: Run) -> None:
    words = (*SHOWER, "--size", "6", "--longest", "--largest")
    _, text, _ = run(*words)
    _, raw, _ = run(*words, "--json")
    told = json.loads(raw)

    assert f"{told['longest_run']['length_m']:.1f} m" in text
    assert f"{told['largest_load']['ib_a']:.1f} A" in text
    plain = " ".join(text.split())
    for finding in told["findings"]:
        assert finding["clause"] in plain
    for way in told["ways_out"]:
        assert " ".join(way["does"]) in plain


def test_a_size_left_out_is_found(run: Run) -> None:
    """10 kW, 45 A under the insulation by method 100: 10 mm² (trade article on the shower)."""
    _, out, _ = run(
        "shower", "--power", "10000", "--length", "15", "--method", "100", "--smallest", "--json"
    )
    told = json.loads(out)

    assert told["smallest_cable"]["line_mm2"] == 10
    assert told["circuit"]["in_a"] == 45
    assert {finding["verdict"] for finding in told["findings"]} <= {"pass", "advise"}


def test_what_was_assumed_is_said(run: Run) -> None:
    _, out, _ = run("cooker", "--size", "6", "--length", "12")

    assert "Assumed:" in out
    assert "load was not given" in out
    assert "worst method" in out
    assert "largest declared" in out


def test_a_fuse_that_is_asked_about_stays_a_fuse(run: Run) -> None:
    """4 mm² clipped carries 37 A (Table 4D5), behind BS 3036 0.725 of it: 26.8 A for 30 A."""
    words = ("cooker", "--current", "25", "--size", "4", "--length", "10", "--method", "C")
    _, out, _ = run(*words, "--device", "30", "--standard", "BS 3036", "--existing", "--json")
    told = json.loads(out)

    assert told["circuit"]["iz_a"] == pytest.approx(37 * 0.725)
    assert told["findings"][0]["verdict"] == "fail"
    assert any("RCBO" in way["does"][0] for way in told["ways_out"])


def test_a_socket_in_the_cookers_unit_counts(run: Run) -> None:
    """12 kW: 10 A, 30 % of the rest, and 5 A for the socket: 27.65 A (Electrician's Guide, 6.2)."""
    words = ("cooker", "--power", "12000", "--size", "6", "--length", "15", "--method", "C")
    told = json.loads(run(*words, "--socket", "--json")[1])
    plain = json.loads(run(*words, "--json")[1])

    assert told["circuit"]["ib_a"] == pytest.approx(27.652, abs=0.0005)
    assert plain["circuit"]["ib_a"] == pytest.approx(22.652, abs=0.0005)


def test_an_old_size_counts_as_the_metric_one_below(run: Run) -> None:
    """7/.029 has 2.983 mm² (a trade wiki on old sizes): it carries what 2.5 mm² carries, 27 A."""
    words = ("sockets", "--size", "7/.029", "--cpc", "1/.044", "--length", "20", "--method", "C")
    told = json.loads(run(*words, "--json")[1])

    assert told["cable"]["line_mm2"] == pytest.approx(2.983, abs=0.0005)
    assert told["cable"]["cpc_mm2"] == pytest.approx(0.981, abs=0.0005)
    assert told["circuit"]["iz_a"] == 27


@pytest.mark.parametrize(
    ("grouping", "iz_a"),
    [
        ((), 27 * 0.65),
        (("--grouping", "bunched"), 27 * 0.65),
        (("--grouping", "single layer, touching"), 27 * 0.75),
        (("--grouping", "single layer, spaced"), 27 * 0.90),
    ],
)
def test_how_four_circuits_lie_together_counts(
    run: Run, grouping: tuple[str, ...], iz_a: float
) -> None:
    """2.5 mm² clipped 27 A (Table 4D5); four together 0.65, 0.75, 0.90 (Table 4C1)."""
    words = ("sockets", "--size", "2.5", "--length", "20", "--method", "C", "--grouped", "3")
    _, out, _ = run(*words, *grouping, "--json")

    assert json.loads(out)["circuit"]["iz_a"] == pytest.approx(iz_a)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("shower", "--length", "15"), "--size: found nothing"),
        (("shower", "--size", "10"), "--length: found nothing"),
        (("shower", "--longest", "--smallest"), "--length: found nothing"),
        (("shower", "--size", "10", "--length", "-3"), "--length: found -3"),
        (("shower", "--size", "ten", "--length", "3"), "--size: found 'ten'"),
        (("shower", "--size", "10", "--length", "3", "--ze", "0,35"), "Write 0.35 with a point"),
        (("shower", "--size", "10", "--length", "3", "--device", "X9"), "--device: found 'X9'"),
        (("shower", "--size", "10", "--length", "3", "--device", "B900"), "--device: found 900"),
        (("shower", "--size", "10", "--length", "3", "--method", "D"), "--method: found 'D'"),
        (("shower", "--size", "10", "--length", "3", "--grouping", "heap"), "--grouping: found"),
        (("shower", "--size", "10", "--length", "3", "--system", "IT"), "--system: found 'IT'"),
        (("shower", "--size", "10", "--length", "3", "--phases", "2"), "--phases: found 2"),
        (("shower", "--size", "inf", "--length", "3"), "--size: found inf"),
        (("shower", "--size", "10", "--length", "nan"), "--length: found nan"),
        (("banana", "--size", "10", "--length", "3"), "SERVES: found 'banana'"),
        (("shower", "--size", "7.5", "--length", "3"), "--cpc: found nothing"),
        (("shower", "--size", "0.5", "--cpc", "0.5", "--length", "3"), "--size: found 0.5"),
        (("shower", "--size", "6", "--length", "3", "--edition", "x"), "edition: found 'x'"),
        (
            ("shower", "--size", "6", "--length", "3", "--power", "1", "--current", "2"),
            "not both",
        ),
    ],
)
def test_bad_input_is_one_sentence_about_what_was_typed(
    run: Run, words: tuple[str, ...], said: str
) -> None:
    code, out, err = run(*words)

    assert code == 2
    assert said in err
    assert out == ""
    assert err.count("\n") == 1
