"""The pack: one PDF that goes to site and is left in the home."""

from __future__ import annotations

import json
from datetime import UTC, datetime, time
from importlib.resources import files
from typing import Any

from boardwright.core.errors import BoardwrightError
from boardwright.design import Design
from boardwright.documents.fonts import font_folder
from boardwright.documents.pack_content import content

TITLE = "Pack"
FILE = "pack.pdf"

_TEMPLATES = ("pack.typ", "look.typ", "sheets.typ", "forms.typ", "labels.typ")


class PackError(BoardwrightError):
    """The pack could not be set; a fault of this program, not of the job."""


def build(design: Design) -> bytes:
    """Return the pack as PDF: tagged for screen readers, the same bytes for the same design.

    Raises
    ------
    PackError
        The typesetter warned or refused: a paper that may look wrong is not handed out.
    """
    import typst

    # The data travels as a file of its own and is never pasted into markup: a home called
    # "#4 $tar" is set as it is written.
    # Its own types leave out the dictionary of files that it takes.
    sources: Any = _sources(content(design))
    compiler = typst.Compiler(
        input=sources,
        font_paths=[str(font_folder())],
        ignore_system_fonts=True,
    )
    try:
        pdf, warnings = compiler.compile_with_warnings(
            format="pdf", pdf_standards=["ua-1"], timestamp=_timestamp(design)
        )
    except typst.TypstError as error:
        raise PackError(f"The pack could not be set: {error.message}") from error
    if warnings or not isinstance(pdf, bytes):
        said = "; ".join(warning.message for warning in warnings)
        raise PackError(f"The pack was set with warnings: {said}")
    return pdf


def _sources(data: dict[str, Any]) -> dict[str, bytes]:
    """Return the templates and the data as the typesetter's files; ``main`` is the first read."""
    folder = files("boardwright.documents").joinpath("paper")
    sources = {name: folder.joinpath(name).read_bytes() for name in _TEMPLATES}
    main = sources.pop("pack.typ")
    return {"main": main, **sources, "data.json": json.dumps(data).encode()}


def _timestamp(design: Design) -> datetime:
    """Return the date of the facts: a clock would make every copy of the pack different."""
    return datetime.combine(design.job.designed_on, time(12), UTC)
