"""The page of a what-if: the designs once they are there, and what else can be tried."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import quote

from boardwright.design import Design
from boardwright.web.views.weigh import Weighed
from boardwright.web.working.ideas import ideas


@dataclass(frozen=True, slots=True)
class Choice:
    """An idea with the links that try it first or second, and which of them stands."""

    words: str
    first: str
    second: str
    is_first: bool
    is_second: bool


@dataclass(frozen=True, slots=True)
class WeighView:
    """All that the page shows; ``weighed`` is none while ``works`` are not over."""

    weighed: Weighed | None
    works: tuple[str, ...]
    choices: tuple[Choice, ...]
    circuits: tuple[tuple[str, str], ...]
    lines: tuple[tuple[str, ...], tuple[str, ...]]

    @property
    def answer(self) -> str:
        """What stands on top."""
        if self.weighed is None:
            return "The variants are being worked out."
        if len(self.weighed.sides) == 1:
            return "What would you change?"
        return self.weighed.answer


def choices(design: Design, first: Sequence[str], second: Sequence[str]) -> tuple[Choice, ...]:
    """Return what can be tried, each with an address for either side."""
    return tuple(
        Choice(
            idea.words,
            _address(idea.edits, second),
            _address(first, idea.edits),
            tuple(first) == idea.edits,
            tuple(second) == idea.edits,
        )
        for idea in ideas(design)
    )


def _address(first: Sequence[str], second: Sequence[str]) -> str:
    sides = (("a", first), ("b", second))
    return "?" + "&".join(f"{key}={quote(line)}" for key, lines in sides for line in lines)
