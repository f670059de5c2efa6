"""The one typeface: the file as its package brings it, and the cut that the page is served."""

from __future__ import annotations

from importlib.metadata import version
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from tempfile import NamedTemporaryFile

FAMILY = "IBM Plex Sans"

_PACKAGE = "fontpkg_ibm_plex_sans"
_FILE = "files/IBMPlexSans[wdth,wght].ttf"
_SIGNS = "ΩµμΔ²³·≥≤−→×°–—…‘’“”√½£√≈±•✓"
_CUT = 1
"""Raise this when the signs, axes or features below change: the cut in the cache is then stale."""


def font_file() -> Path:
    """Return the variable font, weight and width, as a file on disk."""
    return Path(str(files(_PACKAGE).joinpath(_FILE)))


def font_folder() -> Path:
    """Return the folder of the font, for programs that look fonts up by folder."""
    return font_file().parent


def page_font() -> bytes:
    """Return the font cut for the page: woff2, weights 400 to 700, widths 85 to 100.

    The cut takes a second, so it is kept in the user's cache folder; where that cannot be
    written it is made again each time.
    """
    from platformdirs import user_cache_path

    name = f"plex-sans-{version('fontpkg-ibm-plex-sans')}-{_CUT}.woff2"
    kept = user_cache_path("boardwright") / name
    try:
        return kept.read_bytes()
    except OSError:
        font = cut_font()
        _keep(kept, font)
        return font


def cut_font() -> bytes:
    """Cut the font to what the page needs."""
    from fontTools import subset
    from fontTools.ttLib import TTFont
    from fontTools.varLib import instancer

    options = subset.Options(
        layout_features=["kern", "mark", "mkmk", "ccmp", "locl", "tnum", "zero", "calt"],
        name_IDs=[1, 2, 3, 4, 6, 13, 14],
        hinting=False,
    )
    # Glyphs first: the axes are then cut on a tenth of the outlines.
    font = TTFont(font_file(), recalcTimestamp=False)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=[*range(0x20, 0x7F), *range(0xA0, 0x180), *map(ord, _SIGNS)])
    cutter.subset(font)
    font = instancer.instantiateVariableFont(font, {"wght": (400, 700), "wdth": (85, 100)})
    font.flavor = "woff2"
    written = BytesIO()
    font.save(written)
    return written.getvalue()


def _keep(path: Path, content: bytes) -> None:
    """Write whole or not at all, since two pages may be served at once."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with NamedTemporaryFile(dir=path.parent, delete=False) as half:
            half.write(content)
        Path(half.name).replace(path)
    except OSError:
        # A cache is a convenience: a read-only home must still be served its page.
        return
