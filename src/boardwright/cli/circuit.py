"""One circuit without a job file."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from boardwright.cli.options import OwnFigures


def circuit(  # noqa: PLR0917 - one option for each thing that is known of a circuit
    serves: Annotated[str, typer.Argument(help="What it feeds: shower, cooker, sockets, ...")],
    power: Annotated[str | None, typer.Option(help="Power of the load in W.")] = None,
    current: Annotated[str | None, typer.Option(help="Or its current in A.")] = None,
    size: Annotated[str | None, typer.Option(help="Line conductor in mm2, or as 7/.029.")] = None,
    cpc: Annotated[str | None, typer.Option(help="Protective conductor in mm2.")] = None,
    length: Annotated[str | None, typer.Option(help="Length in m; a ring all the way.")] = None,
    cable: Annotated[
        str, typer.Option(help="How it is made; also: singles, swa 90, swa 70.")
    ] = "flat twin and earth",
    method: Annotated[str | None, typer.Option(help="A, B, C, 100 to 103 or D.")] = None,
    ambient: Annotated[str | None, typer.Option(help="Temperature around it in C.")] = None,
    grouped: Annotated[str | None, typer.Option(help="Loaded circuits beside it.")] = None,
    grouping: Annotated[
        str | None,
        typer.Option(help="How: bunched; single layer, touching; single layer, spaced."),
    ] = None,
    insulated: Annotated[str | None, typer.Option(help="Length in insulation in mm.")] = None,
    device: Annotated[str | None, typer.Option(help="Curve and rating, as B32.")] = None,
    standard: Annotated[
        str | None, typer.Option(help="RCBO, MCB, BS 3036, BS 88-3 or BS 1361.")
    ] = None,
    socket: Annotated[
        bool, typer.Option("--socket", help="A cooker's control unit with a socket.")
    ] = False,
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
    from boardwright.documents.answers.circuit import circuit_json, circuit_text
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
        grouping=grouping,
        insulated=insulated,
        device=device,
        standard=standard,
        socket=socket,
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


__all__ = ["circuit"]
