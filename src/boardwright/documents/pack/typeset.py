"""Setting a paper as PDF: tagged for screen readers, the same bytes for the same design."""

from __future__ import annotations

import json
from datetime import UTC, datetime, time
from importlib.resources import files
from typing import Any

from boardwright.core.errors import BoardwrightError
from boardwright.design import Design
from boardwright.documents.look.fonts import font_folder

_TEMPLATES = (
    "look.typ",
    "sheets.typ",
    "forms.typ",
    "results.typ",
    "duty.typ",
    "workings.typ",
    "labels.typ",
)


class PackError(BoardwrightError):
    """A paper could not be set; a fault of this program, not of the job."""


PREVIEW_PPI = 96.0
"""Fineness of a page's picture: an A4 page then fills a laptop's window. [1/inch]"""


def typeset(main: str, data: dict[str, Any], design: Design) -> bytes:
    """Return a paper as PDF: ``main`` is the template that is read first.

    Raises
    ------
    PackError
        The typesetter warned or refused: a paper that may look wrong is not handed out.
    """
    pdf = _compiled(main, data, design, {"format": "pdf", "pdf_standards": ["ua-1"]})
    if not isinstance(pdf, bytes):
        raise PackError(f"{main} was set as pages, not as one paper")
    return pdf


def pictures(main: str, data: dict[str, Any], design: Design) -> tuple[bytes, ...]:
    """Return each page of a paper as a PNG picture, to be looked at before it is handed out.

    Raises
    ------
    PackError
        The typesetter warned or refused.
    """
    pages = _compiled(main, data, design, {"format": "png", "ppi": PREVIEW_PPI})
    return (pages,) if isinstance(pages, bytes) else tuple(pages)


def _compiled(
    main: str, data: dict[str, Any], design: Design, how: dict[str, Any]
) -> bytes | list[bytes]:
    import typst

    # The data travels as a file of its own and is never pasted into markup: a home called
    # "#4 $tar" is set as it is written.
    # Its own types leave out the dictionary of files that it takes.
    sources: Any = _sources(main, data)
    compiler = typst.Compiler(
        input=sources,
        font_paths=[str(font_folder())],
        ignore_system_fonts=True,
    )
    try:
        made, warnings = compiler.compile_with_warnings(timestamp=_timestamp(design), **how)
    except typst.TypstError as error:
        raise PackError(f"{main} could not be set: {error.message}") from error
    if warnings or made is None:
        said = "; ".join(warning.message for warning in warnings)
        raise PackError(f"{main} was set with warnings: {said}")
    return made


def _sources(main: str, data: dict[str, Any]) -> dict[str, bytes]:
    """Return the templates and the data as the typesetter's files; ``main`` is the first read."""
    folder = files("boardwright.documents.pack").joinpath("paper")
    sources = {name: folder.joinpath(name).read_bytes() for name in _TEMPLATES}
    first = folder.joinpath(main).read_bytes()
    return {"main": first, **sources, "data.json": json.dumps(data).encode()}


def _timestamp(design: Design) -> datetime:
    """Return the date of the facts: a clock would make every copy of a paper different."""
    return datetime.combine(design.job.designed_on, time(12), UTC)
