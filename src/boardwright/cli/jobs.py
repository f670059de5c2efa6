"""A job from its first line to its papers."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from boardwright.cli.options import CatalogueFolder, JobFile, OwnFigures, designed

if TYPE_CHECKING:
    from boardwright.design import Design
    from boardwright.documents.save import Saved


class SchemaOf(StrEnum):
    """What a schema can be printed of."""

    JOB = "job"
    DESIGN = "design"


def plan(
    job: JobFile,
    out: Annotated[Path | None, typer.Option(help="Folder to write the papers to.")] = None,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print the design file alone.")] = False,
    catalogue: CatalogueFolder = None,
    own_figures: OwnFigures = None,
    readings: Annotated[
        Path | None, typer.Option(help="Table of readings (CSV) to set in the pack, with --out.")
    ] = None,
) -> None:
    """Plan JOB: check, choose, arrange, wire. Exit 1 if a finding forbids the work."""
    if readings and not out:
        from boardwright.core.errors import FieldError

        raise FieldError("--readings", readings, "--out FOLDER with it, for the pack to be written")
    result = designed(job, catalogue, own_figures)
    saved = _save(result, out, readings) if out else ()
    if as_json:
        from boardwright.documents.record.design_file import build

        sys.stdout.write(build(result))
    else:
        from boardwright.documents.answers.summary import summary
        from boardwright.terminal import show

        show(summary(result), saved)
    if result.forbids_work:
        raise typer.Exit(1)


def show(
    job: JobFile,
    paper: Annotated[str, typer.Argument(help="Which paper; 'list' names them.")] = "list",
    catalogue: CatalogueFolder = None,
    own_figures: OwnFigures = None,
) -> None:
    """Print one paper of JOB: findings, wiring-table, steps, materials and the rest."""
    from boardwright.core.errors import FieldError
    from boardwright.documents.shelf import whole_shelf

    papers = {document.name: document for document in whole_shelf() if document.is_text}
    if paper == "list":
        for document in papers.values():
            typer.echo(f"{document.name:16} {document.title}")
        return
    if paper not in papers:
        raise FieldError("paper", paper, f"one of {', '.join(papers)}")
    text = papers[paper].build(designed(job, catalogue, own_figures))
    typer.echo(text, nl=False)


def working(
    job: JobFile,
    circuit: Annotated[str, typer.Argument(help="Id of the circuit.", show_default=False)],
    catalogue: CatalogueFolder = None,
    own_figures: OwnFigures = None,
) -> None:
    """Print how each figure of one circuit of JOB came about."""
    from boardwright.core.errors import FieldError
    from boardwright.documents.workings.workings import build_one

    result = designed(job, catalogue, own_figures)
    ids = [each.id for each in result.job.circuits]
    if circuit not in ids:
        raise FieldError("circuit", circuit, f"one of {', '.join(ids)}")
    typer.echo(build_one(result, circuit), nl=False)


def new(
    file: Annotated[Path, typer.Argument(help="The job file to begin; never overwritten.")],
) -> None:
    """Write a commented job file to begin from."""
    from boardwright.core.errors import FileError
    from boardwright.job.write import starter

    try:
        with file.open("x", encoding="utf-8") as handle:
            handle.write(starter())
    except FileExistsError:
        raise FileError(
            f"{file}: is there already and was left as it is. Choose another name."
        ) from None
    except OSError as error:
        raise FileError(f"{file}: cannot be written ({error.strerror}).") from None
    typer.echo(f"{file}: fill in what you know, leave out what you do not know yet.")


def schema(
    of: Annotated[SchemaOf, typer.Argument(help="Of the job or of the design file.")],
) -> None:
    """Print the JSON Schema of the job file or of the design file."""
    import json

    if of is SchemaOf.JOB:
        from boardwright.job.schema import job_schema as make
    else:
        from boardwright.documents.record.design_file import design_schema as make
    typer.echo(json.dumps(make(), indent=1, ensure_ascii=False))


def _save(result: Design, out: Path, readings: Path | None) -> tuple[Saved, ...]:
    from boardwright.documents.readings.file import read_readings
    from boardwright.documents.readings.taken import NOTHING_YET
    from boardwright.documents.save import save_all
    from boardwright.documents.surge.home_network import read_text

    site = read_readings(read_text(readings), result) if readings else NOTHING_YET
    return save_all(result, out, site)


__all__ = ["new", "plan", "schema", "show", "working"]
