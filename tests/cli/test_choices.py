"""The surge-choices command: answer first, data on demand, slips as a sentence."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from boardwright.cli import app
from boardwright.core.errors import FieldError

SEMI = Path(__file__).parents[2] / "examples" / "semi.yaml"


def _run(*words: str) -> Result:
    return CliRunner().invoke(app, ["surge-choices", str(SEMI), *words], catch_exceptions=False)


@pytest.mark.slow
def test_the_answer_stands_first_and_progress_beside_it() -> None:
    done = _run("--draws", "20")

    assert done.exit_code == 0
    assert done.stdout.splitlines()[3].startswith("As designed, this surge can pass the withstand")
    assert "Solving: many surges drawn" in done.stderr


@pytest.mark.slow
def test_the_same_seed_prints_the_same_data() -> None:
    first, again = (_run("--draws", "20", "--seed", "5", "--json") for _ in range(2))

    assert json.loads(first.stdout)["spread"]["seed"] == 5
    assert first.stdout == again.stdout


def test_too_few_draws_are_refused_before_anything_is_solved() -> None:
    with pytest.raises(FieldError, match="draws: found 3, expected 20 to 20000"):
        _run("--draws", "3")
