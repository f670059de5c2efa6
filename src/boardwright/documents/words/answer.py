"""The answer first: what a person would say aloud, then what to do, then counts."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.board.results import Scheme
from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design
from boardwright.documents.words.figures import in_words, sentence, source

_OPEN = (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN, Verdict.ADVISE)

_FITS = {
    Scheme.NEW_BOARD: "The board fits",
    Scheme.SPARE_WAYS: "The SPD fits in the board as found",
    Scheme.SEPARATE_BOX: "The SPD goes in a box beside the board",
}


@dataclass(frozen=True, slots=True)
class Group:
    """Findings that say the same of several subjects, to be read and done as one."""

    findings: tuple[Finding, ...]

    @property
    def lead(self) -> Finding:
        """The first of them, which speaks for all."""
        return self.findings[0]

    @property
    def subjects(self) -> str:
        """The subjects by name, the first capital as written."""
        return ", ".join(dict.fromkeys(finding.subject for finding in self.findings))

    @property
    def said(self) -> tuple[tuple[str, str], ...]:
        """What is so, each sentence once with its subjects; no subjects where they are all."""
        by_sentence: dict[str, dict[str, None]] = {}
        for finding in self.findings:
            by_sentence.setdefault(sentence(finding.message), {})[finding.subject] = None
        return tuple(
            ("" if ", ".join(names) == self.subjects else ", ".join(names), words)
            for words, names in by_sentence.items()
        )

    @property
    def sources(self) -> tuple[str, ...]:
        """Each clause that they rest on, once."""
        return tuple(dict.fromkeys(source(finding.rule) for finding in self.findings))

    @property
    def to_do(self) -> str:
        """What to do, or what is so where nothing can be done; one sentence."""
        return sentence(self.lead.remedy or self.lead.message)


@dataclass(frozen=True, slots=True)
class Answer:
    """``sentence`` is what a person would say; ``first`` must be settled before work starts.

    ``then`` holds the other open points, gravest first; ``passed`` and
    ``not_applicable`` are only counted.
    """

    sentence: str
    first: tuple[Group, ...]
    then: tuple[Group, ...]
    passed: int
    not_applicable: int

    @property
    def counts(self) -> str:
        """The quiet rest in words."""
        text = f"{self.passed:,} within"
        if self.not_applicable:
            text += f", {self.not_applicable:,} not applicable"
        return f"{text}."


def answer(design: Design) -> Answer:
    """Return the answer that opens the summary, the page and the pack."""
    found = design.findings
    still_open = tuple(f for f in found if f.verdict in _OPEN)
    first = tuple(f for f in still_open if f.first or f.verdict is Verdict.STOP)
    return Answer(
        sentence=_said(design, first),
        first=grouped(first),
        then=grouped(tuple(f for f in still_open if f not in first)),
        passed=_count(found, Verdict.PASS),
        not_applicable=_count(found, Verdict.NOT_APPLICABLE),
    )


def grouped(findings: tuple[Finding, ...]) -> tuple[Group, ...]:
    """Return the findings with those of one verdict and remedy together: one deed, one entry."""
    groups: dict[tuple[Verdict, str], list[Finding]] = {}
    for finding in findings:
        # Without a remedy the message is the point, and it differs by subject.
        same = finding.remedy or finding.message
        groups.setdefault((finding.verdict, same), []).append(finding)
    return tuple(Group(tuple(group)) for group in groups.values())


def _said(design: Design, first: tuple[Finding, ...]) -> str:
    stops, fails, unknowns = (
        len(grouped(tuple(f for f in design.findings if f.verdict is verdict)))
        for verdict in (Verdict.STOP, Verdict.FAIL, Verdict.UNKNOWN)
    )
    if stops:
        forbids = "forbids" if stops == 1 else "forbid"
        said = ["The work must not go ahead", f"{in_words(stops, 'thing')} {forbids} it"]
    else:
        said = [_fits(design)]
    if fails:
        said.append(f"{in_words(fails, 'thing')} {'fails' if fails == 1 else 'fail'}")
    if first and not stops:
        said.append(f"{in_words(len(grouped(first)), 'thing')} to settle first")
    if not (stops or fails or first):
        nothing = "Nothing found against it"
        said.append(f"{in_words(unknowns, 'thing')} not known yet" if unknowns else nothing)
    return " ".join(sentence(part) for part in said)


def _fits(design: Design) -> str:
    chosen = design.chosen
    if chosen.board.missing:
        return "No board on offer holds everything"
    if chosen.spd.candidate is None and chosen.scheme is not Scheme.NEW_BOARD:
        return "The board as found stays, without an SPD"
    return _FITS[chosen.scheme]


def _count(findings: tuple[Finding, ...], verdict: Verdict) -> int:
    return sum(finding.verdict is verdict for finding in findings)
