"""Checks on how the board is fed on TT, and on the box that hangs beside a board."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.results import BoardPlan, Role, Scheme
from boardwright.core.findings import Finding, Rule, Verdict
from boardwright.verification.check import check
from boardwright.verification.facts import Facts


@check
def metal_board_on_tt(facts: Facts) -> Iterator[Finding]:
    """Ahead of the first RCD of a TT board nothing may make its metal live (531.3.5.3.2)."""
    if facts.board is None or facts.job.supply.system != "TT":
        return
    rule = facts.edition.rule("tt.rcd_at_origin")
    submain = facts.job.supply.submain
    if submain is not None and submain.rcd_ahead == "yes":
        yield _tt(Verdict.PASS, "An RCD stands ahead of the distribution circuit.", rule)
    elif facts.board.scheme is Scheme.NEW_BOARD:
        yield _new_board(facts.board, rule)
    else:
        yield _kept_board(facts, rule)


def _tt(verdict: Verdict, message: str, rule: Rule, remedy: str = "") -> Finding:
    return Finding(
        check="board.tt_incomer",
        verdict=verdict,
        subject="Board",
        subject_id="board",
        message=message,
        rule=rule,
        remedy=remedy,
    )


def _new_board(board: BoardPlan, rule: Rule) -> Finding:
    incomer = [item for item in board.items if item.role is Role.INCOMER_RCD]
    if not board.enclosure.metal:
        return _tt(Verdict.PASS, "The enclosure is not metal.", rule)
    if incomer and all(item.device.time_delayed for item in incomer):
        return _tt(Verdict.PASS, "A time-delayed RCD stands ahead of all circuits.", rule)
    bare = [i.label for i in board.items if i.role is Role.CIRCUIT and i.device.idn_a is None]
    if board.enclosure.class_ii_incomer and not bare:
        message = "Every circuit has an RCD of its own; what stands ahead is Class II by its maker."
        return _tt(Verdict.PASS, message, rule)
    remedy = "Fit a time-delayed RCD ahead of all, or a board with an insulated incoming side."
    if incomer:
        message = "The RCD ahead of all circuits is not time-delayed: it trips with theirs."
        return _tt(Verdict.ADVISE, message, rule, remedy)
    return _tt(Verdict.FAIL, "A metal board on TT with no RCD ahead of all circuits.", rule, remedy)


def _kept_board(facts: Facts, rule: Rule) -> Finding:
    existing = facts.job.existing_board
    if existing is None or existing.metal is None:
        return _tt(
            Verdict.UNKNOWN,
            "Whether the board as found is metal is not known.",
            rule,
            "Look at its enclosure.",
        )
    if existing.metal == "no" or existing.class_ii_incomer == "yes":
        return _tt(Verdict.PASS, "The board as found cannot become live ahead of its RCDs.", rule)
    return _tt(
        Verdict.ADVISE,
        "The board as found is metal on TT; its tails and main switch stand ahead of every RCD.",
        rule,
        "Propose a time-delayed RCD ahead of it, or a board with an insulated incoming side.",
    )


@check
def box_hangs_close(facts: Facts) -> Iterator[Finding]:
    """Boxes beside a board must hang so near that the leads stay short (534.4.8)."""
    if facts.board is None or facts.board.scheme is not Scheme.SEPARATE_BOX:
        return
    if facts.spd.candidate is None:
        return  # Nothing hangs where there is nothing to put in.
    lead_m = facts.job.wishes.separate_box_lead_m
    good_m = facts.edition.number("spd.leads_good_m")
    # The way there and the way back to earth: both carry the surge.
    both_m = None if lead_m is None else 2 * lead_m
    verdict, message, remedy = _closeness(both_m, good_m)
    yield Finding(
        check="board.scheme",
        verdict=verdict,
        subject="SPD box",
        subject_id="board",
        message=message,
        rule=facts.edition.rule("spd.leads_good_m"),
        value=both_m,
        limit=good_m,
        unit="m",
        remedy=remedy,
    )


def _closeness(both_m: float | None, good_m: float) -> tuple[Verdict, str, str]:
    if both_m is None:
        message = "How far the box hangs from the board's terminals is not known."
        return Verdict.UNKNOWN, message, "Measure the way that a lead would take to the box."
    message = f"The way to the box and back to earth is {both_m:.2f} m outside it."
    if both_m <= good_m:
        return Verdict.PASS, message, ""
    remedy = "Hang it nearer, give it an earth bar of its own, or plan a new board with the SPD in."
    return Verdict.ADVISE, message, remedy
