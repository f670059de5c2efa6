"""Limits that the linter holds for us: it must go on catching each of them.

Sorted and complete `__all__`, public docstrings, no `global`, no star import, no dead code in
comments: a test of our own would say the same twice, so this one tries the configuration.
"""

import json
import subprocess
import sys

import pytest

from tests.habits.source import ROOT

STRAYS = {
    "D103": "def price() -> int:\n    return 1\n",
    "ERA001": '"""Module."""\n\n# x = f(1)\n',
    "F403": '"""Module."""\n\nfrom math import *\n',
    "PLW0603": '"""Module."""\n\nX = 1\n\n\ndef f():\n    global X\n    X = 2\n',
    "RUF022": '"""Module."""\n\n__all__ = ["b", "a"]\n\na = b = 1\n',
    "TD003": '"""Module."""\n\n# TO' + "DO: later\n",
}


@pytest.mark.parametrize("code", STRAYS)
def test_the_linter_catches(code: str) -> None:
    ruff = [sys.executable, "-m", "ruff", "check", "--output-format", "json"]
    done = subprocess.run(
        [*ruff, "--stdin-filename", "src/boardwright/stray.py", "-"],
        input=STRAYS[code],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
    )

    assert code in {row["code"] for row in json.loads(done.stdout)}
