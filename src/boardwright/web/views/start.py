"""The ways to begin a home: three answers, an example, or a job file that is there already."""

from __future__ import annotations

import re
from dataclasses import dataclass

from boardwright.web.homes.cards import Cards
from boardwright.web.homes.examples import examples


@dataclass(frozen=True, slots=True)
class Example:
    """One example home: what it shows, in its own file's words."""

    name: str
    title: str
    says: str
    waits: bool


@dataclass(frozen=True, slots=True)
class Option:
    """One answer to a question."""

    value: str
    words: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class StartView:
    """The page of beginnings; ``said`` is what is wrong with a file that was brought."""

    answer: str
    examples: tuple[Example, ...]
    kinds: tuple[Option, ...]
    services: tuple[Option, ...]
    systems: tuple[Option, ...]
    boards: tuple[Option, ...]
    added: tuple[Option, ...]
    said: tuple[str, ...] = ()


_KINDS = (Option("house", "House"), Option("bungalow", "Bungalow"), Option("flat", "Flat"))
_UNKNOWN = Option("", "Not known yet")
_SERVICES = (
    Option("underground", "By a cable in the ground"),
    Option("overhead", "By a line from a pole"),
    _UNKNOWN,
)
_SYSTEMS = (
    Option("TN-C-S", "TN-C-S", "The earthing conductor goes to the neutral block of the cut-out."),
    Option("TN-S", "TN-S", "It goes to the sheath or armour of the service cable."),
    Option("TT", "TT", "It goes to an electrode in the ground."),
    Option("", "Not known yet", "TN-C-S is assumed, and marked so, until somebody has looked."),
)
_BOARDS = (
    Option("new", "A new board with surge protection"),
    Option("compare", "Keep the board or replace it: show both", "Ten ways are assumed."),
)
_ADDED = (Option("shower", "An electric shower"), Option("ev", "A charging point"))


def start_view(cards: Cards, said: tuple[str, ...] = (), *, empty: bool = False) -> StartView:
    """Return the page of beginnings."""
    return StartView(
        answer="There is no home here yet. Begin one." if empty else "Begin a home.",
        examples=tuple(
            Example(name, _title(text), _says(text), waits=not cards.is_drawn(text))
            for name, text in examples().items()
        ),
        kinds=_KINDS,
        services=_SERVICES,
        systems=_SYSTEMS,
        boards=_BOARDS,
        added=_ADDED,
        said=said,
    )


def _title(text: str) -> str:
    found = re.search(r"^title: (.+)$", text, re.MULTILINE)
    return found[1].strip("\"'") if found else ""


def _says(text: str) -> str:
    """Return the first sentence of the words on top of an example's file."""
    lines = re.match(r"(?:#[^\n]*\n)*", text)
    words = " ".join(line.lstrip("# ") for line in (lines[0] if lines else "").splitlines())
    return words.partition(". ")[0].rstrip(".") + "."
