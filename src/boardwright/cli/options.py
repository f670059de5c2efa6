"""What several commands take, and what they all do first: read the job and design it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from boardwright.core.errors import BoardwrightError

if TYPE_CHECKING:
    from boardwright.design import Design

JobFile = Annotated[Path, typer.Argument(help="The job file (YAML).", show_default=False)]
CatalogueFolder = Annotated[
    Path | None, typer.Option("--catalogue", help="Folder with your own catalogue files.")
]
OwnFigures = Annotated[
    Path | None,
    typer.Option(
        "--own-figures", help="TOML file that confirms or replaces figures of the edition."
    ),
]


def designed(job_path: Path, catalogue_folder: Path | None, own_figures: Path | None) -> Design:
    """Read what the paths name, then design."""
    from boardwright.catalogue.load import load_catalogue
    from boardwright.design import design
    from boardwright.job.place import placed
    from boardwright.job.read import read_job
    from boardwright.standards.load import load_edition

    job, offered = read_job(job_path), load_catalogue(catalogue_folder)
    try:
        return design(job, offered, load_edition(job.edition, own_figures))
    except BoardwrightError as error:
        raise placed(error, job_path) from None


__all__ = ["CatalogueFolder", "JobFile", "OwnFigures", "designed"]
