"""What a person waits for: whole processes, from the shell to the last byte written."""

import sys
import tempfile
from pathlib import Path

from bench.harness import Ratio, compare, process

TITLE = "Start-up: whole processes against an empty Python"
ROOT = Path(__file__).parents[1]


def measure() -> list[Ratio]:
    """Time the help and the whole plan of the demo home."""
    boardwright = Path(sys.executable).with_name("boardwright")
    job = ROOT / "examples" / "semi.yaml"
    with tempfile.TemporaryDirectory() as folder:
        return compare(
            {
                "boardwright --help": process([boardwright, "--help"]),
                "boardwright plan semi.yaml": process([boardwright, "plan", job, "--out", folder]),
            },
            reference="python -c pass",
            work=process([sys.executable, "-c", "pass"]),
        )
