"""What every bench shares: timing by turns, the ratio, the printed line and the JSON file.

A bench is one file in this folder with `TITLE` and `measure() -> list[Ratio]`; `./run bench`
finds it by its name.
"""

import json
import os
import statistics
import subprocess
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Protocol

Work = Callable[[], object]


@dataclass(frozen=True, slots=True)
class Ratio:
    """How long one thing takes against a reference timed in the same run."""

    name: str
    reference: str
    times_s: tuple[float, ...]
    reference_times_s: tuple[float, ...]

    @property
    def of_min(self) -> float:
        """Return the ratio of the quickest runs: the steadier figure on a shared machine."""
        return min(self.times_s) / min(self.reference_times_s)

    @property
    def of_median(self) -> float:
        """Return the ratio of the median runs: what a person meets."""
        return statistics.median(self.times_s) / statistics.median(self.reference_times_s)

    def line(self) -> str:
        """Return the ratio as one printed line."""
        return (
            f"{self.name:<44} {self.of_min:7.1f} x {self.reference}  "
            f"(min {min(self.times_s) * 1e3:.0f} ms, "
            f"median {statistics.median(self.times_s) * 1e3:.0f} ms = {self.of_median:.1f} x)"
        )

    def record(self) -> dict[str, object]:
        """Return the ratio with all its times, for the JSON file."""
        return {**asdict(self), "ratio_of_min": self.of_min, "ratio_of_median": self.of_median}


def compare(
    works: Mapping[str, Work], *, reference: str, work: Work, repeats: int = 5
) -> list[Ratio]:
    """Time each of the works against the reference work, all by turns.

    Turns spread a slow moment of the machine over all of them. The first round only warms caches.
    """
    everything = {reference: work, **works}
    times_s: dict[str, list[float]] = {name: [] for name in everything}
    for _ in range(repeats + 1):
        for name, one in everything.items():
            times_s[name].append(_time_s(one))
    reference_times_s = tuple(times_s[reference][1:])
    return [Ratio(name, reference, tuple(times_s[name][1:]), reference_times_s) for name in works]


def process(arguments: Sequence[str | Path]) -> Work:
    """Return the work of running a whole process, which must succeed."""
    # Without its byte-code a program starts two to four times slower than a user sees.
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}

    def run() -> None:
        done = subprocess.run(
            arguments, capture_output=True, text=True, env=environment, check=False
        )
        if done.returncode != 0:
            command = " ".join(map(str, arguments))
            raise RuntimeError(f"{command} ended with {done.returncode}: {done.stderr.strip()}")

    return run


class Result(Protocol):
    """What a bench returns: a ratio, or figures of its own."""

    def line(self) -> str:
        """Return it as one printed line."""

    def record(self) -> dict[str, object]:
        """Return it for the JSON file."""


def write(ratios: Sequence[Result], path: Path) -> None:
    """Write the results as JSON, making the folder where it is missing."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps([ratio.record() for ratio in ratios], indent=2) + "\n")


def _time_s(work: Work) -> float:
    start_s = time.perf_counter()
    work()
    return time.perf_counter() - start_s
