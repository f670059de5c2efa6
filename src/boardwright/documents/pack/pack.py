"""The pack: one PDF that goes to site and is left in the home."""

from __future__ import annotations

from boardwright.design import Design
from boardwright.documents.pack.content import content
from boardwright.documents.pack.typeset import PackError, pictures, typeset
from boardwright.documents.readings.taken import NOTHING_YET, OnSite

TITLE = "Pack"
FILE = "pack.pdf"
TAKES_READINGS = True

__all__ = ["FILE", "TAKES_READINGS", "TITLE", "PackError", "build", "pages"]


def build(design: Design, site: OnSite = NOTHING_YET) -> bytes:
    """Return the pack as PDF, with the readings of the site where there are any.

    Raises
    ------
    PackError
        The typesetter warned or refused: a paper that may look wrong is not handed out.
    """
    return typeset("pack.typ", content(design, site), design)


def pages(design: Design, site: OnSite = NOTHING_YET) -> tuple[bytes, ...]:
    """Return the pack's pages as pictures, to be looked at before it is issued.

    Raises
    ------
    PackError
        The typesetter warned or refused.
    """
    return pictures("pack.typ", content(design, site), design)
