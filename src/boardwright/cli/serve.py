"""The page."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from boardwright.cli.options import OwnFigures


def serve(  # noqa: PLR0917 - one option for each thing that may be chosen
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
    lan: Annotated[
        bool, typer.Option("--lan", help="Serve paired devices of the local network too.")
    ] = False,
    address: Annotated[str, typer.Option(help="With --lan: this machine's address there.")] = "",
    certificate: Annotated[
        Path | None, typer.Option(help="With --lan: a certificate of yours (PEM).")
    ] = None,
    key: Annotated[Path | None, typer.Option(help="Its key (PEM, without a password).")] = None,
    plain: Annotated[
        bool, typer.Option("--plain", help="With --lan: without HTTPS; others can listen.")
    ] = False,
) -> None:
    """Open the page on this machine; with --lan also for paired devices of the local network."""
    from boardwright.core.errors import FieldError
    from boardwright.web.server.serve import Lan, run

    if not lan and (address or certificate or key or plain):
        expected = "--lan with --address, --certificate, --key and --plain"
        raise FieldError("--lan", None, expected)
    network = Lan(address, certificate, key, plain) if lan else None
    run(folder, port, own_figures, store, network)


__all__ = ["serve"]
