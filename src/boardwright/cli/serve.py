"""The page."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from boardwright.cli.options import OwnFigures


def serve(
    folder: Annotated[
        Path | None,
        typer.Argument(help="Folder with job files, or one of them: read, and written back."),
    ] = None,
    port: Annotated[int, typer.Option(min=1, max=65535, help="Port on this machine.")] = 8047,
    own_figures: OwnFigures = None,
    store: Annotated[
        str | None,
        typer.Option(help="File or PostgreSQL address that keeps the homes; else a file of yours."),
    ] = None,
) -> None:
    """Open the page on this machine; nobody else can reach it."""
    from boardwright.web.serve import run

    run(folder, port, own_figures, store)


__all__ = ["serve"]
