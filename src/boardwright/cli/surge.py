"""The surge of a home, or of a network given as data."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from boardwright.surge.many import ManySurges
    from boardwright.surge.network import SurgeNetwork
    from boardwright.surge.prepare import StepRule
    from boardwright.surge.solver import Solution


def surge(  # noqa: PLR0917 - one option for each thing the command may do
    job: Annotated[
        Path | None, typer.Argument(help="The job file (YAML).", show_default=False)
    ] = None,
    network: Annotated[
        Path | None, typer.Option(help="Solve this network (JSON) instead of a job's home.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Peaks and waveforms as JSON.")] = False,
    spice: Annotated[
        Path | None, typer.Option(help="Write the network as a netlist for ngspice.")
    ] = None,
    end_s: Annotated[float, typer.Option(help="Time to stop at, in seconds.")] = 100e-6,
    fine: Annotated[
        bool, typer.Option("--fine", help="Shorter steps, halved until the peaks settle.")
    ] = False,
    times: Annotated[
        int | None,
        typer.Option(help="This many surges, size and mains angle drawn.", show_default=False),
    ] = None,
    seed: Annotated[int, typer.Option(help="What the draws begin from.")] = 1,
) -> None:
    """Solve the surge of JOB's home, or of a network given as data, cable by cable."""
    from boardwright.core.errors import FieldError
    from boardwright.documents.surge.home_network import home_network, read_text, write_text
    from boardwright.surge.network import read_network
    from boardwright.surge.prepare import STEP_RULES, Accuracy
    from boardwright.surge.report import as_json as data
    from boardwright.surge.report import as_text
    from boardwright.surge.spice import SpiceRun, netlist
    from boardwright.surge.waves import solve_waves

    if (job is None) == (network is None):
        raise FieldError("job", str(job), "either a job file or --network, not both or neither")
    text = read_text(network) if network else home_network(job) if job else ""
    given, rule = read_network(text), STEP_RULES[Accuracy.FINE if fine else Accuracy.DEFAULT]
    if spice:
        write_text(spice, netlist(given, SpiceRun(end_s, rule.longest_s)))
    if times is not None:
        many = _many(given, times, end_s, seed)
        typer.echo(many.data() if as_json else many.text())
        return
    if job and not fine:
        # Steps of one size answer at once; of homes drawn at random all but a few are within
        # 0.2 % (docs/surge.md). --fine is for those few.
        solution = solve_waves(given, end_s, rule=replace(rule, within_ratio=None))
    else:
        solution = _solved(given, end_s, rule)
    typer.echo(data(solution) if as_json else as_text(solution))


def _many(network: SurgeNetwork, times: int, end_s: float, seed: int) -> ManySurges:
    """Run many surges behind a bar, which shows on a terminal alone."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn
    from rich.progress import TimeRemainingColumn as Rest

    from boardwright.surge.many import many_surges

    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), Rest())
    with Progress(
        *columns, console=console, disable=not console.is_terminal, transient=True
    ) as bar:
        # It moves to and fro until the first surges are through: a first run compiles.
        task = bar.add_task("getting ready", total=None)
        return many_surges(
            network,
            times,
            end_s,
            seed=seed,
            progress=lambda done: bar.update(
                task, description="surges", total=times, completed=done
            ),
        )


def _solved(network: SurgeNetwork, end_s: float, rule: StepRule) -> Solution:
    """Solve a network, and say meanwhile on a terminal what takes so long."""
    from rich.console import Console

    from boardwright.surge.waves import solve_waves

    console = Console(stderr=True)
    if not console.is_terminal:
        return solve_waves(network, end_s, rule=rule)
    with console.status("Solving, in shorter and shorter steps until the peaks settle"):
        return solve_waves(network, end_s, rule=rule)


__all__ = ["surge"]
