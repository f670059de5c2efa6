"""The answer on one screen: what fits, what to do first, what fails, and what it takes."""

from __future__ import annotations

from boardwright.design import Design
from boardwright.documents.answer import Group, answer
from boardwright.documents.figures import quantity, verdict_word, volts_between
from boardwright.documents.plain import paragraph

LINES = 24
"""Lines of the smallest terminal in use."""

_WIDTH = 96


def summary(design: Design) -> str:
    """Return the summary: at most 24 lines, so that nothing scrolls away."""
    said = answer(design)
    lines = [f"{design.job.title} · {design.edition.title}", paragraph(said.sentence), ""]
    lines += [*_facts(design), ""]
    room = LINES - len("\n".join(lines).splitlines()) - 4
    first, left = _numbered(said.first, room - (1 if said.then else 0) * 2)
    if first:
        lines += ["Before the work starts", *first]
    then, _ = _marked(said.then, left)
    lines += then
    lines += ["", f"{said.counts} All findings: boardwright show JOB findings"]
    return "\n".join(lines) + "\n"


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
    return name if leads_m is None else f"{name}, leads {leads_m:.2f} m to earth and back"


def _surge(design: Design) -> str:
    study = design.chosen.study
    board = study.places[0]
    band = board.with_spd_v or board.without_spd_v
    return (
        f"{volts_between(band.p5_v, band.p95_v)} left at the board by an assumed {study.surge}, "
        f"withstand {quantity(board.uw_v, 'V')}"
    )


def _numbered(groups: tuple[Group, ...], room: int) -> tuple[list[str], int]:
    shown = [_cut(f"{n:>2}. {_line(group)}") for n, group in enumerate(groups, start=1)]
    return _fitted(shown, room)


def _marked(groups: tuple[Group, ...], room: int) -> tuple[list[str], int]:
    shown = [_cut(f"{verdict_word(group.lead.verdict):<10}{_line(group)}") for group in groups]
    return _fitted(shown, room)


def _line(group: Group) -> str:
    return f"{group.subjects}: {group.to_do}"


def _fitted(lines: list[str], room: int) -> tuple[list[str], int]:
    """Return the lines that fit, the last saying how many did not, and the room left."""
    room = max(room, 1)
    if len(lines) <= room:
        return lines, room - len(lines)
    kept = lines[: room - 1]
    return [*kept, f"… and {len(lines) - len(kept)} more"], 0


def _cut(line: str) -> str:
    return line if len(line) <= _WIDTH else f"{line[: _WIDTH - 1].rstrip()}…"
