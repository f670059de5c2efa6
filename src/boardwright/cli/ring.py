"""The readings of a ring, judged without a job."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from boardwright.cli.options import OwnFigures


def ring(  # noqa: PLR0917 - one option for each thing that is read of a ring
    r1: Annotated[str | None, typer.Option(help="Line end to end, in ohm.")] = None,
    rn: Annotated[str | None, typer.Option(help="Neutral end to end, in ohm.")] = None,
    r2: Annotated[str | None, typer.Option(help="Protective conductor end to end.")] = None,
    size: Annotated[str, typer.Option(help="Line conductor in mm2.")] = "2.5",
    cpc: Annotated[str, typer.Option(help="Protective conductor in mm2.")] = "1.5",
    ln: Annotated[
        str, typer.Option(help="Line to neutral at the sockets, ends crossed: '0.3 0.31'.")
    ] = "",
    le: Annotated[str, typer.Option(help="Line to cpc at the sockets, ends crossed.")] = "",
    edition: Annotated[str, typer.Option(help="Wiring rules.")] = "bs7671_2018_a4",
    own_figures: OwnFigures = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Judge a ring by its readings: its ends, then its sockets with the ends crossed."""
    from boardwright.circuits.ring_readings import RingReadings
    from boardwright.circuits.typed import Span, typed_number, typed_numbers, typed_size_mm2
    from boardwright.documents.answers.ring import ring_json, ring_text
    from boardwright.standards.load import load_edition

    rules, ohm = load_edition(edition, own_figures), Span(0, 100, "ohm")
    read = RingReadings(
        line_mm2=typed_size_mm2("--size", size, rules),
        cpc_mm2=typed_size_mm2("--cpc", cpc, rules),
        r1_ohm=typed_number("--r1", r1, ohm),
        rn_ohm=typed_number("--rn", rn, ohm),
        r2_ohm=typed_number("--r2", r2, ohm),
        line_neutral_ohm=typed_numbers("--ln", ln, ohm),
        line_cpc_ohm=typed_numbers("--le", le, ohm),
    )
    sys.stdout.write((ring_json if as_json else ring_text)(read, rules))


__all__ = ["ring"]
