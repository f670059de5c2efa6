"""The division of a home on the command line: what is proposed, what it costs, bad input."""

import json
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from boardwright.catalogue.load import load_catalogue
from boardwright.cli import main

ROOT = Path(__file__).parents[2]
SEMI = str(ROOT / "examples" / "semi.yaml")
SPLIT = str(ROOT / "examples" / "semi-split.yaml")
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    def command(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["boardwright", "division", *words])
        with pytest.raises(SystemExit) as ended:
            main()
        out, err = capsys.readouterr()
        return int(ended.value.code or 0), out, err

    return command


def test_the_cost_is_that_of_the_makers_devices(run: Run) -> None:
    """Eleven circuits: as many RCBOs, at the lowest price in the catalogue file of the range."""
    _, out, _ = run(SEMI, "--json")
    told = json.loads(out)
    rcbos = [d for d in load_catalogue().devices.values() if d.kind.value == "RCBO"]
    lowest_gbp = min(d.price_gbp for d in rcbos if d.family == "ravel-r1")
    option = next(o for o in told["options"] if o["kind"] == "RCBO on every way")

    assert option["cost_gbp"] == pytest.approx(11 * lowest_gbp)
    assert option["most_down"] == 1


def test_text_and_json_say_the_same(run: Run) -> None:
    code, text, _ = run(SPLIT)
    _, raw, _ = run(SPLIT, "--json")
    told, plain = json.loads(raw), " ".join(text.split()).replace("\N{NO-BREAK SPACE}", " ")

    assert code == 0
    for reason in told["reasons"]:
        assert reason[1:] in plain
    for option in told["options"]:
        assert f"£{option['cost_gbp']:,.2f}" in plain
        for names in option["down_together"]:
            assert len(names) == 1 or f"{', '.join(names)} go off with one trip" in plain


def test_a_job_that_wants_the_other_division_is_told_so(run: Run) -> None:
    assert "The job asks for two sections" in run(SPLIT)[1]
    assert "The job asks for" not in run(SEMI)[1]


def test_every_command_of_its_page_runs(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    page = (ROOT / "docs" / "division.md").read_text(encoding="utf-8")
    commands = [line.split()[2:] for line in page.splitlines() if line.startswith("boardwright ")]
    shown = page.split("```text\n")[1].split("```")[0].strip()

    assert shown in run(*commands[0])[1]
    assert [run(*words)[0] for words in commands] == [0] * len(commands)


@pytest.mark.parametrize("name", ["nowhere.yaml", "pyproject.toml"])
def test_a_file_that_is_no_job_is_one_sentence(run: Run, name: str) -> None:
    code, out, err = run(str(ROOT / name))

    assert (code, out) == (2, "")
    assert name in err
    assert "Traceback" not in err
