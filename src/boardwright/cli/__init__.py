"""The command line: thin. Everything it does, the library does.

Heavy rooms are imported inside the commands, so that help answers at once.
"""

from __future__ import annotations

import os
import sys

import typer

from boardwright.cli.choices import surge_choices
from boardwright.cli.circuit import circuit
from boardwright.cli.division import division
from boardwright.cli.editions import editions_app
from boardwright.cli.electrode import electrode
from boardwright.cli.jobs import new, plan, schema, show, working
from boardwright.cli.ring import ring
from boardwright.cli.serve import serve
from boardwright.cli.surge import surge
from boardwright.core.errors import BoardwrightError

app = typer.Typer(
    help="Plan a home's consumer unit and surge protection, from survey to papers.",
    epilog="Prove dead before you touch. The edition in force, local rules and your own "
    "judgement stand above what this program prints.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

for command in (
    plan,
    show,
    working,
    circuit,
    ring,
    electrode,
    division,
    surge,
    surge_choices,
    new,
    schema,
    serve,
):
    app.command()(command)
app.add_typer(editions_app, name="edition")


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
