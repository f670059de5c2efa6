"""An earth electrode, worked out without a job."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from boardwright.cli.options import OwnFigures


def electrode(  # noqa: PLR0917 - one option for each thing that is known of an electrode
    soil: Annotated[str | None, typer.Option(help="Resistivity of the soil in ohm metres.")] = None,
    reads: Annotated[str | None, typer.Option(help="Or what one driven rod reads, in ohm.")] = None,
    rod: Annotated[str | None, typer.Option(help="Length of a rod in the ground, in m.")] = None,
    diameter: Annotated[str, typer.Option(help="Its diameter in mm.")] = "16",
    rods: Annotated[str, typer.Option(help="How many, in a line.")] = "1",
    spacing: Annotated[
        str | None, typer.Option(help="How far apart in m; else twice their length.")
    ] = None,
    strip: Annotated[str | None, typer.Option(help="Or the length of a strip in m.")] = None,
    width: Annotated[str, typer.Option(help="Its width in mm.")] = "25",
    depth: Annotated[str, typer.Option(help="How deep it lies, in m.")] = "0.6",
    plate: Annotated[str | None, typer.Option(help="Or the area of a plate in m2.")] = None,
    idn: Annotated[str, typer.Option(help="The RCD that relies on it, in mA.")] = "30",
    edition: Annotated[str, typer.Option(help="Wiring rules.")] = "bs7671_2018_a4",
    own_figures: OwnFigures = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Work out an earth electrode: what it should read, in a dry season too, and for which RCD."""
    from boardwright.circuits.electrode_typed import ElectrodeTyped, electrode_asked
    from boardwright.documents.answers.electrode import electrode_json, electrode_text
    from boardwright.standards.load import load_edition

    typed = ElectrodeTyped(
        soil=soil,
        reads=reads,
        rod=rod,
        diameter=diameter,
        rods=rods,
        spacing=spacing,
        strip=strip,
        width=width,
        depth=depth,
        plate=plate,
        idn=idn,
    )
    asked, rules = electrode_asked(typed), load_edition(edition, own_figures)
    sys.stdout.write((electrode_json if as_json else electrode_text)(asked, rules))


__all__ = ["electrode"]
