"""The one way from a scene to SVG: templates of this folder, escaped, with no undefined name."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined, Template


def template(name: str) -> Template:
    """Return a template of the drawings."""
    return _environment().get_template(name)


@cache
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("boardwright.documents", "drawing"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=StrictUndefined,
    )
