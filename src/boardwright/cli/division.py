"""How a home is divided over its RCDs."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from boardwright.cli.options import CatalogueFolder, JobFile, OwnFigures, designed


def division(
    job: JobFile,
    catalogue: CatalogueFolder = None,
    own_figures: OwnFigures = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Weigh RCBOs on all ways of JOB against sections: what each costs, and why one is better."""
    from boardwright.documents.answers.division import division_json, division_text

    result = designed(job, catalogue, own_figures)
    sys.stdout.write(division_json(result) if as_json else division_text(result))


__all__ = ["division"]
