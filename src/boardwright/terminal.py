"""What a command says on the terminal: the text, then where each paper went."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Protocol


class Written(Protocol):
    """A paper on disk, as the saving of papers reports it."""

    @property
    def title(self) -> str:
        """Its title."""

    @property
    def path(self) -> Path:
        """Where it is."""

    @property
    def beside(self) -> bool:
        """True where a person's own file kept the usual name."""


def show(text: str, saved: Sequence[Written]) -> None:
    """Print a text and the papers written, with weight and colour only where a person reads it."""
    whole = text + papers(saved)
    if not sys.stdout.isatty():
        sys.stdout.write(whole)
        return
    from rich.console import Console
    from rich.text import Text

    lines = whole.splitlines()
    styled = Text("\n".join(lines))
    # Weight for the answer, colour for what fails: it is spent on nothing else.
    styled.stylize("bold", 0, len("\n".join(lines[:2])))
    styled.highlight_regex(r"(?m)^(Stop|Fail)\b", "bold red")
    styled.highlight_regex(r"(?m)^(Before the work starts|Not known|Advise)", "bold")
    Console(highlight=False, soft_wrap=True).print(styled)


def papers(saved: Sequence[Written]) -> str:
    """Return where the papers went, and which stand beside a file that was left alone."""
    if not saved:
        return ""
    folder = saved[0].path.parent
    names = ", ".join(paper.path.name for paper in saved)
    lines = [f"Papers in {folder}: {names}"]
    lines += [
        f"{paper.title}: the file of the usual name is yours and was left; see {paper.path.name}."
        for paper in saved
        if paper.beside
    ]
    return "\n".join(lines) + "\n"
