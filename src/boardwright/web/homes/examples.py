"""The example homes that ship with the program: invented, and whole from survey to papers."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from boardwright.core.errors import FieldError


@cache
def examples() -> dict[str, str]:
    """Return the text of each example by its name."""
    folder = files("boardwright.web").joinpath("example_homes")
    found = (file for file in folder.iterdir() if file.name.endswith(".yaml"))
    texts = {file.name.removesuffix(".yaml"): file.read_text(encoding="utf-8") for file in found}
    return dict(sorted(texts.items()))


def example(name: str) -> str:
    """Return the text of an example.

    Raises
    ------
    FieldError
        There is none of that name.
    """
    if name not in examples():
        raise FieldError("example", name, f"one of {', '.join(examples())}")
    return examples()[name]


__all__ = ["example", "examples"]
