"""The first page: the homes of the folder, each with its board in small."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.documents.figures import in_words, sentence
from boardwright.job.job import Job
from boardwright.web.jobs import Entry


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
    """All homes of the folder."""

    answer: str
    homes: tuple[Home, ...]


def homes_view(entries: tuple[Entry, ...]) -> HomesView:
    """Return what the first page shows."""
    count = sentence(in_words(len(entries), "home")).rstrip(".")
    return HomesView(
        answer=f"{count} in this folder." if entries else "There is no job in this folder yet.",
        homes=tuple(_home(entry) for entry in entries),
    )


def _home(entry: Entry) -> Home:
    if entry.job is None:
        return Home(entry.id, entry.file, "", entry.file, entry.errors)
    return Home(entry.id, entry.job.title, _facts(entry.job), entry.file, ())


def _facts(job: Job) -> str:
    phases = "single-phase" if job.supply.phases == 1 else "three-phase"
    circuits = in_words(len(job.circuits), "circuit")
    kind = sentence(job.premises.kind).rstrip(".")
    return f"{kind}, {job.supply.system}, {phases}, {circuits}"
