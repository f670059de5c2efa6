"""How wide words truly stand: the widths in the typeface's own file, not our estimate."""

from __future__ import annotations

from functools import cache
from typing import Any

from fontTools.ttLib import TTFont

from boardwright.documents.look.fonts import font_file


def true_width_mm(words: str, size_mm: float, *, weight: float = 400) -> float:
    """Return the sum of the letters' widths at a weight. [mm]"""
    font, glyphs = _glyphs(weight)
    cmap = font.getBestCmap()
    em = float(font["head"].unitsPerEm)
    return size_mm * sum(float(glyphs[cmap[ord(sign)]].width) for sign in words) / em


@cache
def _glyphs(weight: float) -> tuple[Any, Any]:
    font = TTFont(font_file())
    return font, font.getGlyphSet(location={"wght": weight, "wdth": 100})
