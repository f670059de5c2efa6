"""The bench's arithmetic, and that it never times a program that failed."""

import json
import sys
from pathlib import Path

import pytest

from bench.__main__ import NAMES, main
from bench.harness import Ratio, compare, process, write

RATIO = Ratio("ours", "theirs", (0.4, 0.2, 0.9), (0.1, 0.3, 0.1))


def test_ratios_of_the_quickest_and_of_the_median() -> None:
    assert RATIO.of_min == pytest.approx(2)
    assert RATIO.of_median == pytest.approx(4)


def test_the_file_keeps_every_time(tmp_path: Path) -> None:
    write([RATIO], tmp_path / "new" / "some.json")

    (record,) = json.loads((tmp_path / "new" / "some.json").read_text())
    assert record["times_s"] == [0.4, 0.2, 0.9]
    assert record["ratio_of_median"] == pytest.approx(4)


def test_works_take_turns_and_the_first_round_is_not_counted() -> None:
    calls: list[str] = []

    (ratio,) = compare(
        {"ours": lambda: calls.append("ours")},
        reference="theirs",
        work=lambda: calls.append("theirs"),
        repeats=2,
    )

    assert calls == ["theirs", "ours"] * 3
    assert len(ratio.times_s) == len(ratio.reference_times_s) == 2


def test_a_failing_process_is_an_error_with_its_own_words() -> None:
    with pytest.raises(RuntimeError, match="ended with 1: no such home"):
        process([sys.executable, "-c", "import sys; sys.exit('no such home')"])()


def test_an_unknown_bench_names_the_known_ones(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["nonsense"]) == 2
    said = capsys.readouterr().err
    assert all(name in said for name in NAMES)
