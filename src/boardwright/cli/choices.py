"""What would change the surge left in a home."""

from __future__ import annotations

from typing import Annotated

import typer

from boardwright.cli.options import CatalogueFolder, JobFile, OwnFigures, designed


def surge_choices(  # noqa: PLR0917 - one option for each thing that is asked
    job: JobFile,
    draws: Annotated[int, typer.Option(help="Surges drawn for the range.")] = 300,
    seed: Annotated[int, typer.Option(help="What the draws start from.")] = 1,
    catalogue: CatalogueFolder = None,
    own_figures: OwnFigures = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Weigh what would change the surge in JOB's home: leads, place, SPD, a second one."""
    from boardwright.documents.surge.choices import choices, choices_json
    from boardwright.documents.surge.surge_choices import choices_text

    def told(words: str, _fraction: float) -> None:
        typer.echo(f"Solving: {words} …", err=True)

    result = designed(job, catalogue, own_figures)
    found = choices(result, draws=draws, seed=seed, told=told)
    title = result.job.title
    typer.echo(choices_json(found) if as_json else choices_text(found, title), nl=False)


__all__ = ["surge_choices"]
