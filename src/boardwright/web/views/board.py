"""The board page: its picture, its findings, its conductors, and what else can be done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design, Variant
from boardwright.documents.words.answer import answer
from boardwright.documents.words.figures import in_words, sentence
from boardwright.web.views.conductors import Conductors, conductors
from boardwright.web.views.findings import Panel, panel
from boardwright.web.views.moving import MovingView, moving_view
from boardwright.web.views.pictures import Picture, picture
from boardwright.web.views.schemes import Schemes, schemes_view
from boardwright.web.working.moving import Move, tried

_ELSEWHERE = ("circuit.", "gate.", "demand.", "surge.")
"""Findings that have their place on another page, or beside their circuit."""


@dataclass(frozen=True, slots=True)
class BoardView:
    """All that the board page shows."""

    answer: str
    lead: str
    picture: Picture
    findings: Panel
    elsewhere: str
    conductors: Conductors
    reasons: tuple[str, ...]
    wishes: tuple[tuple[str, str, str], ...]
    order: str
    schemes: Schemes
    moving: MovingView


def board_view(saved: Design, view: str, zoom: int, moves: Sequence[Move] = ()) -> BoardView:
    """Return what the board page shows; ``view`` and ``zoom`` choose its picture.

    With moves it shows the board as it would be.

    Raises
    ------
    FieldError
        There is no such picture.
    """
    attempt = tried(saved, moves)
    design = attempt.design
    chosen = design.chosen
    findings = panel(design.findings, of_the_board)
    return BoardView(
        answer=answer(design).sentence,
        lead=_lead(chosen),
        picture=picture(design, view, zoom, tuple(f"{move.item}:{move.way}" for move in moves)),
        findings=findings,
        elsewhere=_elsewhere(design, findings),
        conductors=conductors(chosen),
        reasons=tuple(sentence(reason) for reason in chosen.board.reasons),
        wishes=tuple(
            (sentence(wish.name), f"{wish.weight:g}", f"{wish.cost:g}")
            for wish in chosen.arrangement.preferences
        ),
        order=chosen.arrangement.note,
        schemes=schemes_view(saved),
        moving=moving_view(saved, attempt),
    )


def of_the_board(finding: Finding) -> bool:
    """Tell whether a finding speaks of board or wiring; a fail is shown here in any case."""
    return finding.verdict is Verdict.FAIL or not finding.check.startswith(_ELSEWHERE)


def _elsewhere(design: Design, here: Panel) -> str:
    """Return how many open points have their place on the design page; empty for none."""
    more = len(panel(design.findings).open) - len(here.open)
    return sentence(in_words(more, "more open point")).rstrip(".") if more > 0 else ""


def _lead(variant: Variant) -> str:
    arrangement = variant.arrangement
    spare = in_words(arrangement.spare_modules, "spare way")
    how = (
        "Order of the ways proven the best for your wishes"
        if arrangement.proven
        else "Order of the ways legal, not proven the best"
    )
    return f"{arrangement.enclosure.name}. {how}; {spare}."
