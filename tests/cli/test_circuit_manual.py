"""The manual's page on one circuit shows what the program prints."""

import re
import shlex
import sys
from pathlib import Path

import pytest

from boardwright.cli import main

PAGE = (Path(__file__).parents[2] / "docs" / "circuit.md").read_text(encoding="utf-8")
COMMANDS = re.findall(r"```sh\n(.*?)\n```", PAGE)
SHOWN = re.findall(r"```text\n(.*?)```", PAGE, re.DOTALL)


def _printed(
    command: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> str:
    monkeypatch.setattr(sys, "argv", shlex.split(command))
    with pytest.raises(SystemExit) as ended:
        main()
    assert not ended.value.code
    return capsys.readouterr().out


def test_the_first_example_prints_what_is_shown(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _printed(COMMANDS[0], monkeypatch, capsys).startswith(SHOWN[0].splitlines()[0])
    assert SHOWN[0].strip() in _printed(COMMANDS[0], monkeypatch, capsys)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_of_the_page_runs(
    command: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    printed = _printed(command, monkeypatch, capsys)

    assert ("mm²" if "electrode" not in command else "Ω") in printed
