"""What to look up in one's own copy: each figure from memory that this home's findings rest on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from boardwright.circuits.site import Site
from boardwright.core.findings import Finding, Known, Verdict
from boardwright.design import Design, spd_site
from boardwright.documents.answers.editions import value_words
from boardwright.documents.words.figures import in_words
from boardwright.documents.words.plain import Column, heading, paragraph, table
from boardwright.gate.judge import judge
from boardwright.spd.need import surge_need
from boardwright.spd.select import choose_spd
from boardwright.standards.compare import Stated, as_number, stated
from boardwright.standards.edition import Edition
from boardwright.standards.trace import Figure, Trace, watched
from boardwright.verification.check import Check, all_checks, said
from boardwright.verification.facts import Facts

TITLE = "Figures to confirm"
FILE = "to-confirm.txt"

_NAMED = 3
"""So many subjects are named; how many more there are is counted."""

_PRACTICE = ("common practice", "no clause")
"""How the clause of a figure begins that stands in no standard."""

_OF_THE_SPD = "Choice of the SPD"
_OF_THE_GATE = "Whether the work may go ahead"


@dataclass(frozen=True, slots=True)
class Doubt:
    """A figure from memory, and what of this home rests on it, each finding once."""

    figure: Figure
    stated: Stated
    rests: tuple[tuple[str, str], ...]

    @property
    def subjects(self) -> tuple[str, ...]:
        """The subjects of the findings that rest on it, each once."""
        return tuple(dict.fromkeys(subject for _, subject in self.rests))

    @property
    def is_figure(self) -> bool:
        """Tell a figure from the words of a rule, of which only the clause can be looked up."""
        return not isinstance(self.stated.value, str)

    @property
    def is_practice(self) -> bool:
        """Tell what the trade does from what a standard states."""
        return self.stated.rule.clause.startswith(_PRACTICE)


def doubts(design: Design) -> tuple[Doubt, ...]:
    """Return every figure from memory that a finding rests on, what bears most first.

    A figure counts for a finding where the check asked for it, or where the circuit that the
    finding speaks of was worked out with it.
    """
    rests: dict[Figure, dict[tuple[str, str], None]] = {}
    for figure, finding in _asked(design):
        rests.setdefault(figure, {})[finding] = None
    found = (
        Doubt(figure, what, tuple(bears))
        for figure, bears in rests.items()
        if (what := stated(design.edition, figure)) and what.rule.known is Known.MEMORY
    )
    return tuple(sorted(found, key=_order))


def build(design: Design) -> str:
    """Return the figures as a list to take to one's own copy, and a file to write them into."""
    found = doubts(design)
    practice = [doubt for doubt in found if doubt.is_practice]
    figures = [doubt for doubt in found if doubt.is_figure and not doubt.is_practice]
    words = [doubt for doubt in found if not doubt.is_figure and not doubt.is_practice]
    parts = [heading(f"{TITLE}: {design.job.title}"), _lead(design, len(figures))]
    if figures:
        parts.append(_table(figures))
    if words:
        parts += [_title("Clauses cited from memory"), _clauses(words)]
    if practice:
        parts += [_title("Common practice, which no standard states"), _table(practice)]
    if figures:
        parts += [_title("Your own figures"), _how_to(), skeleton(design, figures)]
    return "\n".join(parts)


def _title(words: str) -> str:
    return f"{words}\n{'─' * len(words)}\n"


def skeleton(design: Design, figures: Iterable[Doubt]) -> str:
    """Return a file of own figures, to be corrected and signed; unsigned it is refused."""
    day = design.job.designed_on.isoformat()
    return "\n".join(_entry(doubt, day) for doubt in figures)


def _lead(design: Design, count: int) -> str:
    edition = design.edition
    said_so = paragraph(
        f"Findings of this home rest on {in_words(count, 'figure')} known from memory alone. Look "
        f"them up in your own copy of {edition.title}; what bears most stands first."
    )
    carried = ""
    if edition.carries_from:
        words = edition.carried_words or "the edition before"
        carried = "\n" + paragraph(
            f"Other figures were seen in print, but for {words}: where a finding says "
            '"carried", that text is what was seen.'
        )
    return f"{said_so}{carried}\n"


def _table(figures: Iterable[Doubt]) -> str:
    columns = (
        Column("Findings", figures=True),
        Column("Figure", widest=34),
        Column("Value", widest=12, figures=True),
        Column("Clause", widest=18),
        Column("Rests on it", widest=20),
    )
    rows = [
        [
            str(len(doubt.rests)),
            doubt.figure.place,
            value_words(doubt.stated.value, doubt.stated.unit),
            doubt.stated.rule.clause,
            _named(doubt.subjects),
        ]
        for doubt in figures
    ]
    return table(columns, rows)


def _clauses(words: Iterable[Doubt]) -> str:
    columns = (
        Column("Findings", figures=True),
        Column("Clause", widest=36),
        Column("For", widest=48),
    )
    return table(
        columns,
        [
            [str(len(d.rests)), d.stated.rule.clause, value_words(d.stated.value, d.stated.unit)]
            for d in words
        ],
    )


def _how_to() -> str:
    return (
        paragraph(
            "Copy what follows into a file, correct each value by your own copy, name the copy and "
            "sign; leave out what you did not look up. Then plan again with --own-figures FILE."
        )
        + "\n"
    )


def _entry(doubt: Doubt, day: str) -> str:
    figure, value = doubt.figure, doubt.stated.value
    shown = str(value).lower() if isinstance(value, bool) else f"{value!r}"
    place = f"row = {_quoted(figure.row)}\ncolumn = {_quoted(figure.column)}\n"
    return (
        f"[[confirmed]]  # {doubt.stated.rule.clause}\n"
        f"key = {_quoted(figure.key)}\n"
        f"{place if figure.row else ''}"
        f"value = {shown}\n"
        'copy = ""\ninitials = ""\n'
        f"date = {day}\n"
    )


def _quoted(text: str) -> str:
    return f'"{text}"'


def _named(subjects: tuple[str, ...]) -> str:
    more = len(subjects) - _NAMED
    shown = ", ".join(subjects[:_NAMED])
    return f"{shown} and {more} more" if more > 0 else shown


def _order(doubt: Doubt) -> tuple[int, str, tuple[float, str], str]:
    key, row, column = doubt.figure
    return -len(doubt.rests), key, as_number(row), column


def _asked(design: Design) -> Iterator[tuple[Figure, tuple[str, str]]]:
    """Yield each figure that was asked for, with the finding that it was asked for."""
    trace = Trace()
    edition = watched(design.edition, trace)
    by_circuit = _by_circuit(design, edition, trace)
    facts = _facts(design, edition)
    for run in all_checks():
        for finding, figures in _findings(run, facts, trace):
            told = (finding.check, finding.subject)
            yield from ((figure, told) for figure in figures)
            yield from ((figure, told) for figure in by_circuit.get(finding.subject_id, ()))
    yield from _shared(design, edition, trace)


def _by_circuit(design: Design, edition: Edition, trace: Trace) -> Mapping[str, tuple[Figure, ...]]:
    """Return what each circuit was worked out with."""
    site = Site(design.job, design.plan.origin, design.catalogue, edition)
    asked = {}
    for circuit in design.job.circuits:
        site.assessed(circuit)
        asked[circuit.id] = trace.take()
    return asked


def _facts(design: Design, edition: Edition) -> Facts:
    chosen = design.chosen
    return Facts(
        job=design.job,
        edition=edition,
        catalogue=design.catalogue,
        plan=design.plan,
        need=design.need,
        spd=chosen.spd,
        board=chosen.board,
        arrangement=chosen.arrangement,
        wiring=chosen.wiring,
        study=chosen.study,
    )


def _findings(
    run: Check, facts: Facts, trace: Trace
) -> Iterator[tuple[Finding, tuple[Figure, ...]]]:
    """Yield what one check says, each finding with all that the check asked for."""
    trace.take()
    found = [f for f in said(run, facts) if f.verdict is not Verdict.NOT_APPLICABLE]
    # A check looks up its limits before its first subject: they count for every one of them.
    asked = trace.take()
    yield from ((finding, asked) for finding in found)


def _shared(
    design: Design, edition: Edition, trace: Trace
) -> Iterator[tuple[Figure, tuple[str, str]]]:
    """Yield what the judgement before the work and the choice of the SPD asked for."""
    trace.take()
    judge(design.job, edition)
    yield from ((figure, ("gate", _OF_THE_GATE)) for figure in trace.take())
    need = surge_need(design.job, edition)
    site = spd_site(design.job, design.plan, design.chosen.board.enclosure.family)
    choose_spd(site, need, design.catalogue, edition)
    yield from ((figure, ("spd", _OF_THE_SPD)) for figure in trace.take())
