"""What every sheet set as PDF says of itself, and the marks that it is set with."""

from __future__ import annotations

from typing import Any

from boardwright.core.findings import Verdict
from boardwright.design import Design
from boardwright.documents.look.marks import caution_svg, mark_svg, on_paper
from boardwright.documents.words.inspection import long_date


def head(design: Design) -> dict[str, Any]:
    """Return title, edition and foot of the sheets, and the marks as pictures."""
    return {
        "title": design.job.title,
        "edition": design.edition.title,
        "foot": f"Design {design.mark} · facts as of {long_date(design.job.designed_on)}"
        " · a plan, not a certificate",
        "marks": {verdict.value: mark_svg(verdict, on_paper()) for verdict in Verdict},
        "caution": caution_svg(on_paper()),
    }
