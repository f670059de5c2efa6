"""Contrast of the look's colours, by the formula of WCAG 2 (relative luminance, 1.4.3)."""

import pytest

from boardwright.documents.look.tokens import tokens

THEMES = ("light", "dark", "high light", "high dark")

# The look's own table: which pair must reach what.
PAIRS = [
    ("ink", "page", 7.0),
    ("ink", "surface", 7.0),
    ("ink-2", "surface", 4.5),
    ("ink-2", "sunken", 4.5),
    ("edge", "page", 3.0),
    ("accent", "page", 4.5),
    ("accent", "accent-wash", 4.5),
    ("accent-ink", "accent", 4.5),
    ("adverse", "surface", 4.5),
    ("adverse", "adverse-wash", 4.5),
    ("adverse-ink", "adverse", 4.5),
    ("ink-2", "sheet", 4.5),
    ("line", "sheet", 3.0),
]


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("front", "ground", "need"), PAIRS)
def test_a_pair_is_readable(theme: str, front: str, ground: str, need: float) -> None:
    colours = tokens(theme)

    assert contrast(colours[front], colours[ground]) >= need


def test_the_formula_gives_the_figures_of_the_standard() -> None:
    """WCAG 2: black on white is 21:1; #767676 on white is 4.54:1, the known least grey."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21, abs=1e-9)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)


def test_the_themes_name_the_same_tokens() -> None:
    assert len({frozenset(tokens(theme)) for theme in THEMES}) == 1


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return sum(weight * c for weight, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
