"""Run ngspice on a netlist in a folder of its own, and believe it only when it finished."""

from __future__ import annotations

import re
import subprocess
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from boardwright.core.errors import BoardwrightError
from boardwright.surge.elements import Node
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.spice import SpiceRun, netlist
from boardwright.surge.spice_raw import SpiceResult, read_raw


@dataclass(frozen=True, slots=True)
class Finished:
    """A run that reached its end, how long its process took, and its analysis by its own word."""

    result: SpiceResult
    wall_s: float
    analysis_s: float


def run_ngspice(
    network: SurgeNetwork, run: SpiceRun, watched: tuple[Node, ...] = (), *, limit_s: float = 60.0
) -> Finished:
    """Return what ngspice makes of a network; an error if its run did not reach the end."""
    with tempfile.TemporaryDirectory() as folder:
        circuit, raw = Path(folder) / "surge.cir", Path(folder) / "surge.raw"
        text = netlist(network, run, watched)
        # Accounting makes it print how long the analysis alone took.
        circuit.write_text(text.replace(".end\n", ".options acct\n.end\n"))
        start_s = time.perf_counter()
        try:
            done = subprocess.run(
                ["ngspice", "-b", "-r", str(raw), str(circuit)],  # noqa: S607 - wherever it is
                capture_output=True,
                text=True,
                timeout=limit_s,
                check=False,
            )
        except subprocess.TimeoutExpired:
            raise BoardwrightError(f"ngspice: not done after {limit_s:g} s.") from None
        wall_s = time.perf_counter() - start_s
        if not raw.exists():
            raise BoardwrightError(f"ngspice: wrote nothing. {done.stderr.strip()[-200:]}")
        told = re.search(r"Transient analysis time = ([\d.]+)", done.stdout)
        if told is None:
            raise BoardwrightError("ngspice: said no analysis time.")
        return Finished(read_raw(raw.read_bytes(), run.t_end_s), wall_s, float(told[1]))
