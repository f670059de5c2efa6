"""Findings as the page shows them: boxes gravest first, what passes folded away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from boardwright.core.findings import Finding, Known, Verdict, in_order
from boardwright.documents.words.answer import Group, grouped
from boardwright.documents.words.figures import sentence, verdict_word

QUIET = (Verdict.NOT_APPLICABLE, Verdict.PASS)


@dataclass(frozen=True, slots=True)
class Said:
    """What is so of one subject; ``subject`` is empty where the box's heading names it."""

    subject: str
    text: str


@dataclass(frozen=True, slots=True)
class Box:
    """Findings that say the same, in one box. ``gauge`` is drawn where one finding has figures."""

    id: str
    verdict: Verdict
    word: str
    heading: str
    said: tuple[Said, ...]
    gauge: Finding | None
    remedy: str
    sources: tuple[str, ...]
    from_memory: bool
    first: bool


@dataclass(frozen=True, slots=True)
class Panel:
    """The findings of a page: those to act on, and the quiet rest."""

    open: tuple[Box, ...]
    quiet: tuple[Box, ...]
    passed: int
    not_applicable: int

    @property
    def counts(self) -> str:
        """What stands beside the heading."""
        return f"{len(self.open)} open · {self.passed} within"


def panel(
    findings: tuple[Finding, ...], wanted: Callable[[Finding], bool] = lambda _: True
) -> Panel:
    """Return the panel of the findings that are wanted on a page; its stops stand above it."""
    chosen = in_order(tuple(f for f in findings if wanted(f) and f.verdict is not Verdict.STOP))
    return Panel(
        open=boxes(tuple(f for f in chosen if f.verdict not in QUIET)),
        quiet=boxes(tuple(f for f in chosen if f.verdict in QUIET)),
        passed=sum(f.verdict is Verdict.PASS for f in chosen),
        not_applicable=sum(f.verdict is Verdict.NOT_APPLICABLE for f in chosen),
    )


def stops(findings: tuple[Finding, ...]) -> tuple[Box, ...]:
    """Return what forbids the work, whatever it speaks of."""
    return boxes(tuple(f for f in findings if f.verdict is Verdict.STOP))


def boxes(findings: tuple[Finding, ...]) -> tuple[Box, ...]:
    """Return one box for each group of findings that say the same."""
    return tuple(_box(group, number) for number, group in enumerate(grouped(findings), start=1))


def _box(group: Group, number: int) -> Box:
    lead, several = group.lead, len(group.findings) > 1
    return Box(
        id=f"finding-{lead.check.replace('.', '-')}-{number}",
        verdict=lead.verdict,
        word=verdict_word(lead.verdict),
        heading=group.subjects,
        said=tuple(Said(subject, text) for subject, text in group.said),
        gauge=None if several or lead.verdict in QUIET else lead,
        remedy=sentence(lead.remedy) if lead.verdict not in QUIET else "",
        sources=group.sources,
        from_memory=lead.rule.known is Known.MEMORY,
        first=lead.first and lead.verdict not in QUIET,
    )
