"""The answer on one screen: what fits, what to do first, what fails, and what it takes."""

from __future__ import annotations

import textwrap

from boardwright.design import Design
from boardwright.documents.words.answer import Group, answer
from boardwright.documents.words.figures import quantity, verdict_word, volts_between
from boardwright.documents.words.plain import paragraph

LINES = 24
"""Lines of the smallest terminal in use."""

_WIDTH = 98
_WORD = 10
_LEAST_THEN = 4


def summary(design: Design) -> str:
    """Return the summary: at most 24 lines, so that nothing scrolls away."""
    said = answer(design)
    lines = [f"{design.job.title} · {design.edition.title}", paragraph(said.sentence), ""]
    lines += [*_facts(design), ""]
    foot = ["", f"{said.counts} All findings: boardwright show JOB findings"]
    # What comes first may take two lines each; the rest share what is left, one line each.
    room = LINES - len("\n".join([*lines, *foot]).splitlines())
    then_room = min(len(said.then), _LEAST_THEN)
    if said.first:
        first = _fitted(_first(said.first, room - then_room - 1), room - then_room - 1)
        lines += ["Before the work starts", *first]
        room -= len(first) + 1
    lines += _fitted([_cut(_marked(group)) for group in said.then], room)
    return "\n".join([*lines, *foot]) + "\n"


def _facts(design: Design) -> list[str]:
    chosen, plan = design.chosen, design.plan
    candidate, leads = chosen.spd.candidate, chosen.wiring.spd_leads
    facts = [
        ("Board", f"{chosen.arrangement.enclosure.name}, {chosen.arrangement.spare_modules} spare"),
        ("SPD", _spd(candidate.device.name if candidate else "", leads.total_m if leads else None)),
        ("Demand", f"{quantity(plan.demand.total_a, 'A')} over {len(plan.circuits)} circuits"),
        ("Surge", _surge(design)),
    ]
    return [_cut(f"{name:<8}{text}") for name, text in facts if text]


def _spd(name: str, leads_m: float | None) -> str:
    if not name:
        return "none"
    return name if leads_m is None else f"{name}, leads {leads_m:.2f} m in all"


def _surge(design: Design) -> str:
    study = design.chosen.study
    board = study.places[0]
    band = board.with_spd_v or board.without_spd_v
    return (
        f"{volts_between(band.p5_v, band.p95_v)} left at the board by an assumed {study.surge}, "
        f"withstand {quantity(board.uw_v, 'V')}"
    )


def _first(groups: tuple[Group, ...], room: int) -> list[str]:
    """Return what must be done first: in full where that fits, else a line each."""
    shown = [f"{n}. {_marked(group)}" for n, group in enumerate(groups, start=1)]
    whole = [
        line
        for text in shown
        for line in textwrap.wrap(
            text, _WIDTH, subsequent_indent=" " * (_WORD + 3), break_on_hyphens=False
        )
    ]
    return whole if len(whole) <= room else [_cut(text) for text in shown]


def _marked(group: Group) -> str:
    return f"{verdict_word(group.lead.verdict):<{_WORD}}{_line(group)}"


def _line(group: Group) -> str:
    return f"{group.subjects}: {group.to_do}"


def _fitted(lines: list[str], room: int) -> list[str]:
    """Return the lines that fit, the last saying how many did not."""
    if len(lines) <= room:
        return lines
    kept = lines[: max(room - 1, 0)]
    return [*kept, f"… and {len(lines) - len(kept)} more"]


def _cut(line: str) -> str:
    return line if len(line) <= _WIDTH else f"{line[: _WIDTH - 1].rstrip()}…"
