"""The command line: thin. Everything it does, the library does.

Heavy rooms are imported inside the commands, so that help answers at once.
"""

from __future__ import annotations

import os
import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from boardwright.core.errors import BoardwrightError

if TYPE_CHECKING:
    from boardwright.design import Design
    from boardwright.documents.save import Saved

app = typer.Typer(
    help="Plan a home's consumer unit and surge protection, from survey to papers.",
    epilog="Prove dead before you touch. The edition in force, local rules and your own "
    "judgement stand above what this program prints.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

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


editions_app = typer.Typer(
    help="Look into the editions of the wiring rules that the figures come from.",
    no_args_is_help=True,
)
app.add_typer(editions_app, name="edition")


class SchemaOf(StrEnum):
    """What a schema can be printed of."""

    JOB = "job"
    DESIGN = "design"


@app.command()
def plan(
    job: JobFile,
    out: Annotated[Path | None, typer.Option(help="Folder to write the papers to.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the design file alone.")] = False,
    catalogue: CatalogueFolder = None,
    own_figures: OwnFigures = None,
) -> None:
    """Plan JOB: check, choose, arrange, wire. Exit 1 if a finding forbids the work."""
    result = _design(job, catalogue, own_figures)
    saved = _save(result, out) if out else ()
    if as_json:
        from boardwright.documents.design_file import build

        sys.stdout.write(build(result))
    else:
        from boardwright.documents.summary import summary
        from boardwright.terminal import show

        show(summary(result), saved)
    if result.forbids_work:
        raise typer.Exit(1)


@app.command()
def show(
    job: JobFile,
    paper: Annotated[str, typer.Argument(help="Which paper; 'list' names them.")] = "list",
    catalogue: CatalogueFolder = None,
    own_figures: OwnFigures = None,
) -> None:
    """Print one paper of JOB: findings, wiring-table, steps, materials and the rest."""
    from boardwright.core.errors import FieldError
    from boardwright.documents.shelf import shelf

    papers = {document.name: document for document in shelf() if document.is_text}
    if paper == "list":
        for document in papers.values():
            typer.echo(f"{document.name:16} {document.title}")
        return
    if paper not in papers:
        raise FieldError("paper", paper, f"one of {', '.join(papers)}")
    text = papers[paper].build(_design(job, catalogue, own_figures))
    typer.echo(text, nl=False)


@app.command()
def working(
    job: JobFile,
    circuit: Annotated[str, typer.Argument(help="Id of the circuit.", show_default=False)],
    catalogue: CatalogueFolder = None,
    own_figures: OwnFigures = None,
) -> None:
    """Print how each figure of one circuit of JOB came about."""
    from boardwright.core.errors import FieldError
    from boardwright.documents.workings import build_one

    result = _design(job, catalogue, own_figures)
    ids = [each.id for each in result.job.circuits]
    if circuit not in ids:
        raise FieldError("circuit", circuit, f"one of {', '.join(ids)}")
    typer.echo(build_one(result, circuit), nl=False)


@app.command()
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


@app.command()
def schema(
    of: Annotated[SchemaOf, typer.Argument(help="Of the job or of the design file.")],
) -> None:
    """Print the JSON Schema of the job file or of the design file."""
    import json

    if of is SchemaOf.JOB:
        from boardwright.job.schema import job_schema as make
    else:
        from boardwright.documents.design_file import design_schema as make
    typer.echo(json.dumps(make(), indent=1, ensure_ascii=False))


@app.command()
def serve(
    jobs: Annotated[Path, typer.Argument(help="Folder with job files, or one of them.")] = Path(
        "examples"
    ),
    port: Annotated[int, typer.Option(min=1, max=65535, help="Port on this machine.")] = 8047,
    own_figures: OwnFigures = None,
) -> None:
    """Open the page on this machine; nobody else can reach it."""
    from boardwright.web.serve import run

    run(jobs, port, own_figures)


@editions_app.command("list")
def edition_list() -> None:
    """List the editions there are, with their days."""
    from boardwright.documents.edition_pages import edition_list as page
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
    from boardwright.documents.edition_pages import edition_page
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
    from boardwright.documents.edition_pages import difference_page, job_difference
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


@app.command()
def circuit(  # noqa: PLR0917 - one option for each thing that is known of a circuit
    serves: Annotated[str, typer.Argument(help="What it feeds: shower, cooker, sockets, ...")],
    power: Annotated[str | None, typer.Option(help="Power of the load in W.")] = None,
    current: Annotated[str | None, typer.Option(help="Or its current in A.")] = None,
    size: Annotated[str | None, typer.Option(help="Line conductor in mm2.")] = None,
    cpc: Annotated[str | None, typer.Option(help="Protective conductor in mm2.")] = None,
    length: Annotated[str | None, typer.Option(help="Length in m; a ring all the way.")] = None,
    cable: Annotated[
        str, typer.Option(help="How it is made; also: singles, swa 90, swa 70.")
    ] = "flat twin and earth",
    method: Annotated[str | None, typer.Option(help="A, B, C, 100 to 103 or D.")] = None,
    ambient: Annotated[str | None, typer.Option(help="Temperature around it in C.")] = None,
    grouped: Annotated[str | None, typer.Option(help="Loaded circuits beside it.")] = None,
    insulated: Annotated[str | None, typer.Option(help="Length in insulation in mm.")] = None,
    device: Annotated[str | None, typer.Option(help="Curve and rating, as B32.")] = None,
    standard: Annotated[
        str | None, typer.Option(help="RCBO, MCB, BS 3036, BS 88-3 or BS 1361.")
    ] = None,
    ring: Annotated[bool, typer.Option("--ring", help="A ring, not a radial.")] = False,
    existing: Annotated[bool, typer.Option("--existing", help="The cable is laid.")] = False,
    system: Annotated[str, typer.Option(help="TN-C-S, TN-S or TT.")] = "TN-C-S",
    ze: Annotated[str | None, typer.Option(help="Ze in ohm; else the largest declared.")] = None,
    ra: Annotated[str | None, typer.Option(help="TT: the electrode in ohm.")] = None,
    ipf: Annotated[str | None, typer.Option(help="Prospective fault current in A.")] = None,
    voltage: Annotated[str | None, typer.Option(help="To earth, in V; else 230.")] = None,
    phases: Annotated[str | None, typer.Option(help="1 or 3.")] = None,
    longest: Annotated[bool, typer.Option("--longest", help="Ask the longest run.")] = False,
    smallest: Annotated[bool, typer.Option("--smallest", help="Ask the smallest cable.")] = False,
    largest: Annotated[
        bool, typer.Option("--largest", help="Ask the largest load and device.")
    ] = False,
    edition: Annotated[str, typer.Option(help="Wiring rules.")] = "bs7671_2018_a4",
    own_figures: OwnFigures = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Work out one circuit without a job: what is found, and why; or ask it backwards."""
    from boardwright.circuits.reply import Questions, reply
    from boardwright.circuits.single import Asked
    from boardwright.documents.circuit_answer import circuit_json, circuit_text
    from boardwright.standards.load import load_edition

    asked = Asked(
        serves=serves,
        power=power,
        current=current,
        size=size,
        cpc=cpc,
        length=length,
        cable=cable,
        method=method,
        ambient=ambient,
        grouped=grouped,
        insulated=insulated,
        device=device,
        standard=standard,
        ring=ring,
        existing=existing,
        system=system,
        ze=ze,
        ra=ra,
        ipf=ipf,
        voltage=voltage,
        phases=phases,
    )
    questions = Questions(longest=longest, smallest=smallest, largest=largest)
    answered = reply(asked, questions, load_edition(edition, own_figures))
    sys.stdout.write(circuit_json(answered) if as_json else circuit_text(answered))


@app.command()
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
        bool, typer.Option("--fine", help="Smaller steps, four times as long.")
    ] = False,
) -> None:
    """Solve the surge of JOB's home, or of a network given as data, cable by cable."""
    from boardwright.core.errors import FieldError
    from boardwright.documents.home_network import home_network, read_text, write_text
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
    solution = solve_waves(given, end_s, rule=rule)
    typer.echo(data(solution) if as_json else as_text(solution))


def _design(job_path: Path, catalogue_folder: Path | None, own_figures: Path | None) -> Design:
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


def _save(result: Design, out: Path) -> tuple[Saved, ...]:
    from boardwright.documents.save import save_all

    return save_all(result, out)


def main() -> None:
    """Run the command line; an error a person can mend is one sentence and exit code 2."""
    # The matrices here are small: more threads only wait for one another, and the last
    # digit would depend on how many there are. It must be said before numpy is loaded.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        app()
    except BoardwrightError as error:
        sys.stderr.write(f"{error}\n")
        raise SystemExit(2) from None


__all__ = ["app", "main"]
