"""The first page: the homes of the folder, each with its board in small."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.core.errors import BoardwrightError
from boardwright.documents.figures import in_words, sentence
from boardwright.job.job import Job
from boardwright.web.jobs import Entry, Jobs


@dataclass(frozen=True, slots=True)
class Home:
    """One home; ``errors`` stand in place of its facts where the file cannot be read."""

    id: str
    title: str
    facts: str
    file: str
    errors: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HomesView:
    """One page of the list of homes."""

    answer: str
    homes: tuple[Home, ...]
    asked: str
    page: int
    pages: int


SHOWN = 24
"""Homes on one page of the list."""


def homes_view(jobs: Jobs, asked: str = "", page: int = 1) -> HomesView:
    """Return a page of the homes whose title or id has the words asked for."""
    entries = jobs.entries()
    words = asked.casefold().split()
    found = [e for e in entries if all(w in f"{e.title} {e.id}".casefold() for w in words)]
    pages = max(1, -(-len(found) // SHOWN))
    page = min(max(page, 1), pages)
    shown = found[(page - 1) * SHOWN : page * SHOWN]
    count = sentence(in_words(len(found), "home")).rstrip(".")
    return HomesView(
        answer=_answer(count, bool(entries), bool(words)),
        homes=tuple(_home(entry, jobs) for entry in shown),
        asked=asked,
        page=page,
        pages=pages,
    )


def _answer(count: str, any_home: bool, asked: bool) -> str:  # noqa: FBT001 - two plain facts
    if not any_home:
        return "There is no home here yet."
    return f"{count} found." if asked else f"{count}."


def _home(entry: Entry, jobs: Jobs) -> Home:
    if entry.errors:
        return Home(entry.id, entry.title, "", entry.file, entry.errors)
    try:
        facts = _facts(jobs.load(entry.id))
    except BoardwrightError as error:
        return Home(entry.id, entry.title, "", entry.file, tuple(str(error).splitlines()))
    return Home(entry.id, entry.title, facts, entry.file, ())


def _facts(job: Job) -> str:
    phases = "single-phase" if job.supply.phases == 1 else "three-phase"
    circuits = in_words(len(job.circuits), "circuit")
    kind = sentence(job.premises.kind).rstrip(".")
    return f"{kind}, {job.supply.system}, {phases}, {circuits}"
