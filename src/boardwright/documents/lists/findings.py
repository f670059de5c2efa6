"""The findings as text, gravest first; what passes is a count until asked for."""

from __future__ import annotations

from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design
from boardwright.documents.words.answer import Group, answer, grouped
from boardwright.documents.words.figures import sentence, value_and_limit, verdict_word
from boardwright.documents.words.plain import heading, paragraph

TITLE = "Findings"
FILE = "findings.txt"

_QUIET = (Verdict.NOT_APPLICABLE, Verdict.PASS)
_INDENT = 11


def build(design: Design) -> str:
    """Return every open finding with its clause, and the rest as a count."""
    said = answer(design)
    still_open = tuple(f for f in design.findings if f.verdict not in _QUIET)
    parts = [_head(design, said.sentence), *_sections(still_open), said.counts]
    return "\n".join(parts) + "\n"


def build_all(design: Design) -> str:
    """Return every finding, those that pass and do not apply included."""
    return "\n".join([_head(design, answer(design).sentence), *_sections(design.findings)])


def _head(design: Design, said: str) -> str:
    return f"{heading(f'{TITLE}: {design.job.title}')}\n{paragraph(said)}\n"


def _sections(findings: tuple[Finding, ...]) -> list[str]:
    return [_group(group) for group in grouped(findings)]


def _group(group: Group) -> str:
    lead = group.lead
    word = verdict_word(lead.verdict)
    first = " · before the work starts" if lead.first and lead.verdict not in _QUIET else ""
    lines = [paragraph(f"{group.subjects}{first}", hanging=f"{word:<{_INDENT}}")]
    lines += [_said(subject, words) for subject, words in group.said]
    figures = value_and_limit(lead)
    if len(group.findings) == 1 and figures:
        lines.append(paragraph(figures if lead.value is not None else f"Limit: {figures}", _INDENT))
    if lead.remedy:
        lines.append(paragraph(f"Do: {sentence(lead.remedy)}", _INDENT))
    lines += [paragraph(cited, _INDENT) for cited in group.sources]
    return "\n".join(lines) + "\n"


def _said(subject: str, words: str) -> str:
    return paragraph(f"{subject}: {words}" if subject else words, _INDENT)
