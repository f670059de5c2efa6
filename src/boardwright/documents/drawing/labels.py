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

    A first word too long for a line is divided with a hyphen; what does not fit is left to
    the list beside the drawing, where every name stands in full.
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
    return tuple(lines[:2])


def _divided(word: str, width_mm: float, size_mm: float) -> tuple[str, str]:
    cut = max(
        (n for n in range(2, len(word) - 1) if text_width_mm(f"{word[:n]}-", size_mm) <= width_mm),
        default=2,
    )
    # Neither half shorter than it need be: a cut in the middle reads better than one at the edge.
    cut = min(cut, (len(word) + 1) // 2 + 1)
    return f"{word[:cut]}-", word[cut:]
