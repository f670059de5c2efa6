"""What C code prints must not reach the output that another program reads."""

import os
import subprocess
import sys

import pytest

from boardwright.core.quiet import stdout_to_stderr

PROGRAM = """
import os
from boardwright.core.quiet import stdout_to_stderr
print("before", flush=True)
with stdout_to_stderr():
    os.write(1, b"stray\\n")
print("after", flush=True)
"""


def test_a_stray_line_goes_to_standard_error() -> None:
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )

    assert done.stdout.splitlines() == ["before", "after"]
    assert done.stderr == "stray\n"


def test_an_error_passes_through() -> None:
    with pytest.raises(ValueError, match="of the solver"), stdout_to_stderr():
        raise ValueError("of the solver")
