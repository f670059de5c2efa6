"""An edition's figures as text, and two editions side by side: by themselves, and on one job."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from boardwright.core.findings import Finding, Known, Rule
from boardwright.design import Design
from boardwright.documents.words.figures import (
    confidence,
    in_words,
    quantity,
    sentence,
    value_and_limit,
    verdict_word,
)
from boardwright.documents.words.plain import Column, heading, paragraph, table
from boardwright.standards.compare import Stated, carried_count, differences
from boardwright.standards.edition import Edition, Entry, Table

_INDENT = 4
_KEY = 34
_KNOWN = {
    Known.FOUND: "seen in a published source",
    Known.DERIVED: "worked out",
    Known.MEMORY: "from memory",
    Known.CONFIRMED: "read in your own copy",
}

_Key = tuple[str, str, str]


def edition_list(all_editions: Iterable[Edition]) -> str:
    """Return the editions with their days and how much of each stands in from another."""
    rows = [
        [
            edition.name,
            edition.title,
            edition.valid_from,
            edition.valid_to,
            str(len(edition.entries) + len(edition.tables)),
            str(carried_count(edition)),
        ]
        for edition in all_editions
    ]
    heads = ("Name", "Title", "From", "To")
    columns = [Column(head) for head in heads]
    return table([*columns, Column("Entries", figures=True), Column("Carried", figures=True)], rows)


def edition_page(edition: Edition, *, prefix: str = "", doubtful: bool = False) -> str:
    """Return an edition's entries and tables, each with clause, source and how sure it is.

    Parameters
    ----------
    edition
        The edition to print.
    prefix
        Only the keys that begin so.
    doubtful
        Only what is from memory or carried from another edition.
    """
    items: Sequence[Entry | Table] = [*edition.entries.values(), *edition.tables.values()]
    shown = sorted(
        (i for i in items if i.key.startswith(prefix) and not (doubtful and _is_sure(i))),
        key=lambda item: item.key,
    )
    lines = [line for item in shown for line in _item(item)]
    days = " to ".join(day for day in (edition.valid_from, edition.valid_to) if day)
    count = f"{in_words(len(shown), 'entry', 'entries')} of {len(items)} shown."
    foot = paragraph(sentence(f"{count} In force from {days}" if days else count))
    return "\n".join([heading(edition.title), *lines, "", foot]) + "\n"


def difference_page(one: Edition, other: Edition) -> str:
    """Return the figures on which two editions differ, in value or in clause."""
    found = differences(one, other)
    rows = [[d.figure.place, _stated(d.one), _stated(d.other)] for d in found]
    moved = sum(difference.in_value for difference in found)
    count = f"{in_words(moved, 'figure')} of different value, {len(found) - moved} only in clause"
    counts = paragraph(" ".join(filter(None, [sentence(count), _carried(one), _carried(other)])))
    columns = [
        Column("Figure", widest=32),
        Column(one.name, widest=32),
        Column(other.name, widest=32),
    ]
    body = table(columns, rows) if rows else "No figure differs.\n"
    return "\n".join([heading(f"{one.title} / {other.title}"), body, counts]) + "\n"


def job_difference(one: Design, other: Design) -> str:
    """Return what the same job finds differently under two editions: verdicts and figures."""
    columns = [
        Column("Check", widest=24),
        Column("Subject", widest=22),
        Column(one.edition.title, widest=24),
        Column(other.edition.title, widest=24),
    ]
    rows = list(_job_rows(one, other))
    title = heading(f"{one.job.title}: one home, two editions")
    differ = "differs" if len(rows) == 1 else "differ"
    count = f"{in_words(len(rows), 'finding')} {differ}; the others are the same under both."
    body = table(columns, rows) if rows else "No verdict and no figure differs.\n"
    return "\n".join([title, body, paragraph(sentence(count))]) + "\n"


def _job_rows(one: Design, other: Design) -> Iterator[list[str]]:
    said = [_by_subject(design.findings) for design in (one, other)]
    for key in dict.fromkeys([*said[0], *said[1]]):
        check, _, subject = key
        cells = [found.get(key, "not asked") for found in said]
        if cells[0] != cells[1]:
            yield [check, subject, *cells]


def _by_subject(findings: Iterable[Finding]) -> dict[_Key, str]:
    """Return verdict and figures of each check's subject; several of one are read together."""
    found: dict[_Key, list[str]] = {}
    for finding in findings:
        words = f"{verdict_word(finding.verdict)} {value_and_limit(finding)}".strip()
        found.setdefault((finding.check, finding.subject_id, finding.subject), []).append(words)
    return {key: "; ".join(sorted(words)) for key, words in found.items()}


def _is_sure(item: Entry | Table) -> bool:
    doubtful_cell = isinstance(item, Table) and bool(item.memory_cells)
    return not (item.known is Known.MEMORY or item.carried or doubtful_cell)


def _item(item: Entry | Table) -> Iterator[str]:
    if isinstance(item, Entry):
        words = paragraph(value_words(item.value, item.unit), hanging=f"{item.key:<{_KEY}}")
        yield words
    else:
        yield f"{item.key:<{_KEY}}{item.unit}".rstrip()
        for row, cells in item.rows.items():
            shown = ", ".join(f"{column} {value:g}" for column, value in cells.items())
            yield paragraph(shown, hanging=f"{'':<{_INDENT}}{row:<{_KEY - _INDENT}}")
    yield paragraph(_pedigree(item), _INDENT)


def _pedigree(item: Entry | Table) -> str:
    known = _KNOWN[item.known]
    if isinstance(item, Table) and item.memory_cells:
        cells = in_words(len(item.memory_cells), "cell or row", "cells or rows")
        known += f", {cells} from memory"
    carried = ", carried" if item.carried else ""
    notes = [item.note] if isinstance(item, Entry) else [*item.confirmed_cells.values()]
    return " · ".join([item.clause, f"{known}{carried}", item.source, *filter(None, notes)])


def value_words(value: float | str | bool, unit: str) -> str:  # noqa: FBT001 - an entry holds any of the three
    """Return the value of an entry or a cell as a person reads it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else quantity(value, unit, 4)


def _stated(found: Stated | None) -> str:
    if found is None:
        return "no such rule"
    return " · ".join([value_words(found.value, found.unit), *_cited(found.rule)])


def _cited(rule: Rule) -> list[str]:
    return [part for part in (rule.clause, confidence(rule)) if part]


def _carried(edition: Edition) -> str:
    if not edition.carries_from:
        return ""
    count = carried_count(edition)
    whole = len(edition.entries) + len(edition.tables)
    return f"{edition.title}: {count} of {whole} carried from {edition.carries_from}."
