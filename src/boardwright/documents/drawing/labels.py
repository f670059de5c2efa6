"""Labels that fit: how wide a word is, and how a name is broken under a way."""

from __future__ import annotations

_NARROW = frozenset("iljtfrI1.,:;'|()[] ")
_WIDE = frozenset("mwMWQO@%Ω")
_EM_NARROW, _EM_USUAL, _EM_WIDE = 0.31, 0.555, 0.87
"""Widths of letters as parts of the type size, read off the family at normal width."""


def text_width_mm(text: str, size_mm: float) -> float:
    """Return about how wide a text stands. [mm]"""
    ems = (
        _EM_NARROW if sign in _NARROW else _EM_WIDE if sign in _WIDE else _EM_USUAL for sign in text
    )
    return size_mm * sum(ems)


def broken(name: str, width_mm: float, size_mm: float) -> tuple[str, ...]:
    """Return the name in at most two lines that fit, ending at a whole word.

    A first word too long for a line is divided with a hyphen and, where even two lines are too
    few for it, cut short; what does not fit is left to the list beside the drawing, where every
    name stands in full.
    """
    lines: list[str] = []
    for word in name.split():
        if lines and text_width_mm(f"{lines[-1]} {word}", size_mm) <= width_mm:
            lines[-1] = f"{lines[-1]} {word}"
        elif text_width_mm(word, size_mm) <= width_mm:
            lines.append(word)
        elif not lines:
            lines.extend(_divided(word, width_mm, size_mm))
        else:
            break
    kept = lines[:2]
    # A comma before what was left out would promise a word that does not come.
    return (*kept[:-1], kept[-1].rstrip(",;")) if kept else ()


def _divided(word: str, width_mm: float, size_mm: float) -> tuple[str, ...]:
    cut = _longest(word, "-", width_mm, size_mm)
    # Neither half shorter than it need be: a cut in the middle reads better than one at the edge.
    head, rest = word[:cut], word[cut:]
    even = (len(word) + 1) // 2
    if even < cut and text_width_mm(word[even:], size_mm) <= width_mm:
        head, rest = word[:even], word[even:]
    if text_width_mm(rest, size_mm) > width_mm:
        rest = f"{rest[: _longest(rest, '…', width_mm, size_mm)]}…"
    return f"{head}-", rest


def _longest(word: str, end: str, width_mm: float, size_mm: float) -> int:
    """Return how many letters of a word fit with a sign behind them, two at least."""
    fits = (n for n in range(2, len(word)) if text_width_mm(word[:n] + end, size_mm) <= width_mm)
    return max(fits, default=2)
