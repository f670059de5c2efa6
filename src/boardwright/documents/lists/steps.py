"""The order of work as text, part by part of the day."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

from boardwright.design import Design
from boardwright.documents.words.figures import sentence
from boardwright.documents.words.plain import heading, paragraph
from boardwright.wiring.results import Step

TITLE = "Order of work"
FILE = "steps.txt"

_INDENT = 5


def build(design: Design) -> str:
    """Return every step under its part of the day, with its caution above it."""
    parts = [heading(f"{TITLE}: {design.job.title}")]
    for phase, steps in groupby(design.chosen.wiring.steps, key=lambda step: step.phase):
        lines = [phase.value, "─" * len(phase.value)]
        lines += [_step(step, caution) for step, caution in with_news(tuple(steps))]
        parts.append("\n".join(lines) + "\n")
    return "\n".join(parts)


def with_news(steps: tuple[Step, ...]) -> list[tuple[Step, str]]:
    """Return the steps, each with its caution where that differs from the step before.

    A caution that still applies is not repeated, and a text that stands already is named by its
    step: what is printed at every step is read at none.
    """
    cautions = ["", *(step.caution for step in steps)]
    first: dict[tuple[str, str], int] = {}
    return [
        (_short(step, first), step.caution if step.caution != before else "")
        for step, before in zip(steps, cautions, strict=False)
    ]


def _short(step: Step, first: dict[tuple[str, str], int]) -> Step:
    """Return a step that only names the first of those that say the same."""
    number = first.setdefault((step.text, step.check), step.number)
    if number == step.number or not step.text:
        return step
    return replace(step, text=f"As step {number}", check="")


def _step(step: Step, caution: str) -> str:
    lines = []
    if caution:
        lines.append(paragraph(sentence(caution), _INDENT, hanging="CAUTION: "))
    live = " (parts are live)" if step.live else ""
    lines.append(paragraph(f"{step.title}{live}", hanging=f"{step.number:>3}  "))
    if step.text:
        lines.append(paragraph(sentence(step.text), _INDENT))
    if step.check:
        lines.append(paragraph(f"Check: {sentence(step.check)}", _INDENT))
    return "\n".join(lines)
