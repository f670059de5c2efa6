"""A home begun from three answers: what is only likely is marked so, the rest is not known yet."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from importlib.resources import files

from boardwright.core.errors import FieldError
from boardwright.job.edit import Edit, edited

KINDS = ("house", "bungalow", "flat")
SERVICES = ("underground", "overhead", "")
SYSTEMS = ("TN-C-S", "TN-S", "TT", "")
BOARDS = ("new", "compare")
ADDED = ("shower", "ev")
"""Circuits that may be wished for beside those that a home has."""

_UPSTAIRS = ("lights-up", "sockets-up")
_LIKELIEST = "TN-C-S"
_WAYS = 10


@dataclass(frozen=True, slots=True)
class Answers:
    """The three answers, and what people call the home; empty means not known yet.

    What is there (``kind``, ``service``), the earthing (``system``), and what is wanted
    (``board``, ``added``).
    """

    title: str
    kind: str
    service: str
    system: str
    board: str
    added: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for name, value, known in (
            ("kind", self.kind, KINDS),
            ("service", self.service, SERVICES),
            ("system", self.system, SYSTEMS),
            ("board", self.board, BOARDS),
            *(("added", each, ADDED) for each in self.added),
        ):
            if value not in known:
                said = ", ".join(each or "nothing" for each in known)
                raise FieldError(name, value, f"one of {said}")


def begun(answers: Answers, job_id: str, day: date) -> str:
    """Return the text of a job that says the answers, and no more than they do.

    Raises
    ------
    BoardwrightError
        The title is none.
    """
    text = files("boardwright.job").joinpath("begin.yaml").read_text(encoding="utf-8")
    title = " ".join(answers.title.split()) or "My home"
    edits = [
        Edit("id", job_id),
        Edit("title", title),
        Edit("designed_on", day),
        Edit("premises.kind", answers.kind),
        Edit("supply.service", answers.service or None),
        Edit("supply.system", answers.system or _LIKELIEST, assumed=not answers.system),
        *_one_storey(answers),
        *(Edit(f"circuits.{each}", None) for each in ADDED if each not in answers.added),
        *_board(answers),
    ]
    return edited(text, edits, job_id)


def id_of(title: str) -> str:
    """Return an id that a title suggests: small letters, figures and dashes."""
    plain = re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")
    return plain[:30].strip("-") or "home"


def _one_storey(answers: Answers) -> tuple[Edit, ...]:
    if answers.kind == "house":
        return ()
    return (
        *(Edit(f"circuits.{each}", None) for each in _UPSTAIRS),
        Edit("circuits.lights-down.name", "Lights"),
        Edit("circuits.lights-down.bathroom", "yes"),
        Edit("circuits.sockets-down.name", "Sockets"),
    )


def _board(answers: Answers) -> tuple[Edit, ...]:
    if answers.board == "new":
        return ()
    # Keeping the board can only be weighed for a board: how many ways it has is a guess.
    ways = Edit("existing_board.ways", _WAYS, assumed=True)
    return ways, Edit("wishes.board", "compare")


__all__ = ["ADDED", "BOARDS", "KINDS", "SERVICES", "SYSTEMS", "Answers", "begun", "id_of"]
