"""Light, dark and contrast: what a person chose, kept in a cookie that holds nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlsplit

COOKIE = "look"
KEPT_S = 365 * 24 * 3600.0


@dataclass(frozen=True, slots=True)
class Look:
    """One form of the page. Empty ``theme`` leaves the choice to the system."""

    name: str
    words: str
    theme: str = ""
    contrast: str = ""


LOOKS = (
    Look("system", "As the system"),
    Look("light", "Light", "light", "normal"),
    Look("dark", "Dark", "dark", "normal"),
    Look("high-light", "High contrast, light", "light", "high"),
    Look("high-dark", "High contrast, dark", "dark", "high"),
)


def look_of(name: str | None) -> Look:
    """Return the look of that name; the system's where the name is none of ours."""
    return next((look for look in LOOKS if look.name == name), LOOKS[0])


def way_back(asked: str) -> str:
    """Return where to go after a choice: a path of this page, or the start for anything else."""
    try:
        parts = urlsplit(asked)
    except ValueError:
        return "/"
    foreign = parts.scheme or parts.netloc or not asked.startswith("/") or asked.startswith("//")
    if foreign or "\\" in asked or not asked.isprintable():
        return "/"
    return asked
