"""The pack: one PDF that goes to site and is left in the home."""

from __future__ import annotations

from boardwright.design import Design
from boardwright.documents.pack.content import content
from boardwright.documents.pack.typeset import PackError, pictures, typeset

TITLE = "Pack"
FILE = "pack.pdf"

__all__ = ["FILE", "TITLE", "PackError", "build", "pages"]


def build(design: Design) -> bytes:
    """Return the pack as PDF.

    Raises
    ------
    PackError
        The typesetter warned or refused: a paper that may look wrong is not handed out.
    """
    return typeset("pack.typ", content(design), design)


def pages(design: Design) -> tuple[bytes, ...]:
    """Return the pack's pages as pictures, to be looked at before it is issued.

    Raises
    ------
    PackError
        The typesetter warned or refused.
    """
    return pictures("pack.typ", content(design), design)
