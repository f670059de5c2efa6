"""The one command of the project: its help is complete and a wrong word is refused."""

import re
import subprocess

from tests.habits.source import ROOT

COMMANDS = {"lint", "demo", "serve", "check", "test", "bench"}


def test_help_lists_every_command() -> None:
    listed = set(re.findall(r"^\./run (\w+)", _run("help").stdout, re.MULTILINE))
    handled = set(re.findall(r"^(\w+)\) setup|^(\w+)\) packages", _script(), re.MULTILINE))

    assert listed == COMMANDS == {a or b for a, b in handled}


def test_an_unknown_command_shows_the_help_and_fails() -> None:
    done = _run("nonsense")

    assert done.returncode == 1
    assert "no command 'nonsense'" in done.stderr
    assert "./run demo" in done.stderr


def _script() -> str:
    return (ROOT / "run").read_text()


def _run(command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [ROOT / "run", command], capture_output=True, text=True, timeout=10, check=False
    )
