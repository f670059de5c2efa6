"""The commands that look into the editions."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from boardwright.cli.options import CatalogueFolder, OwnFigures

editions_app = typer.Typer(
    help="Look into the editions of the wiring rules that the figures come from.",
    no_args_is_help=True,
)


@editions_app.command("list")
def edition_list() -> None:
    """List the editions there are, with their days."""
    from boardwright.documents.answers.editions import edition_list as page
    from boardwright.standards.load import editions, load_edition

    typer.echo(page(load_edition(name) for name in editions()), nl=False)


@editions_app.command("show")
def edition_show(
    name: Annotated[str, typer.Argument(help="Which edition; 'edition list' names them.")] = "",
    key: Annotated[str, typer.Option(help="Only figures whose key begins so: spd, rcd.")] = "",
    doubtful: Annotated[
        bool, typer.Option("--doubtful", help="Only what is from memory or carried over.")
    ] = False,
    own_figures: OwnFigures = None,
) -> None:
    """Print an edition's figures with clause, source and how sure each is."""
    from boardwright.documents.answers.editions import edition_page
    from boardwright.standards.load import DEFAULT, load_edition

    edition = load_edition(name or DEFAULT, own_figures)
    typer.echo(edition_page(edition, prefix=key, doubtful=doubtful), nl=False)


@editions_app.command("compare")
def edition_compare(
    one: Annotated[str, typer.Argument(help="One edition.", show_default=False)],
    other: Annotated[str, typer.Argument(help="The other.", show_default=False)],
    job: Annotated[Path | None, typer.Argument(help="A job, to design under both.")] = None,
    catalogue: CatalogueFolder = None,
) -> None:
    """Print what differs between two editions, or between JOB designed under each."""
    from boardwright.documents.answers.editions import difference_page, job_difference
    from boardwright.standards.load import load_edition

    editions = load_edition(one), load_edition(other)
    if job is None:
        typer.echo(difference_page(*editions), nl=False)
        return
    from boardwright.catalogue.load import load_catalogue
    from boardwright.design import design
    from boardwright.job.read import read_job

    read, offered = read_job(job), load_catalogue(catalogue)
    made = (design(read, offered, edition) for edition in editions)
    typer.echo(job_difference(*made), nl=False)


__all__ = ["editions_app"]
