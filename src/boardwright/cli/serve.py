"""The page."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from boardwright.cli.options import OwnFigures


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


__all__ = ["serve"]
