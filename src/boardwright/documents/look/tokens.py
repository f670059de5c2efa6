"""The look's tokens, read from the one stylesheet that page, drawing, chart and pack share."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType

_BLOCK = re.compile(r"(?P<selector>:root[^{]*)\{(?P<body>[^}]*)\}")
_TOKEN = re.compile(r"--(?P<name>[\w-]+):\s*(?P<value>[^;]+);")

_THEMES = {
    "light": (":root",),
    "dark": (":root", ':root[data-theme="dark"]'),
    "high light": (":root", ':root[data-contrast="high"]'),
    "high dark": (
        ":root",
        ':root[data-theme="dark"]',
        ':root[data-contrast="high"]',
        ':root[data-theme="dark"][data-contrast="high"]',
    ),
}


def stylesheet() -> str:
    """Return the tokens as CSS text, as served to the page."""
    return files("boardwright.documents.look").joinpath("tokens.css").read_text(encoding="utf-8")


@cache
def tokens(theme: str = "light") -> Mapping[str, str]:
    """Return the tokens of a theme: light, dark, high light or high dark."""
    blocks: dict[str, dict[str, str]] = {}
    # Conditions such as a preferred scheme repeat a theme's block; the named ones are enough.
    plain = re.sub(r"@media[^{]*\{(?:[^{}]*\{[^}]*\})*[^}]*\}", "", stylesheet())
    for block in _BLOCK.finditer(re.sub(r"/\*.*?\*/", "", plain, flags=re.DOTALL)):
        pairs = {m["name"]: m["value"].strip() for m in _TOKEN.finditer(block["body"])}
        blocks.setdefault(block["selector"].strip(), {}).update(pairs)
    merged: dict[str, str] = {}
    for selector in _THEMES[theme]:
        merged.update(blocks[selector])
    return MappingProxyType(merged)
