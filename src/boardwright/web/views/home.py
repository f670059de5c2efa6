"""The list of homes: what each is, when it was last changed, and what waits in it."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.documents.words.figures import in_words, sentence
from boardwright.web.homes.cards import Cards
from boardwright.web.homes.jobs import Entry, Jobs
from boardwright.web.look.moments import moment


@dataclass(frozen=True, slots=True)
class Home:
    """One home; ``errors`` stand in place of its facts where the file cannot be read.

    ``waits`` is true where its facts or its drawing are not there yet.
    """

    id: str
    title: str
    facts: str
    file: str
    changed: str
    conflicts: int
    waits: bool
    errors: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HomesView:
    """One page of the list of homes; ``away`` shows those that were put away."""

    answer: str
    homes: tuple[Home, ...]
    asked: str
    page: int
    pages: int
    away: bool
    put_away: int


SHOWN = 24
"""Homes on one page of the list."""


def homes_view(
    jobs: Jobs, cards: Cards, asked: str = "", page: int = 1, *, away: bool = False
) -> HomesView:
    """Return a page of the homes whose title or id has the words asked for."""
    gone = jobs.store.put_away()
    entries = tuple(e for e in jobs.entries() if (e.id in gone) == away)
    words = asked.casefold().split()
    found = [e for e in entries if all(w in f"{e.title} {e.id}".casefold() for w in words)]
    pages = max(1, -(-len(found) // SHOWN))
    page = min(max(page, 1), pages)
    shown = found[(page - 1) * SHOWN : page * SHOWN]
    texts = jobs.store.latest_texts([entry.id for entry in shown])
    return HomesView(
        answer=_answer(len(found), searched=bool(words), away=away),
        homes=tuple(_home(entry, texts.get(entry.id, ""), cards) for entry in shown),
        asked=asked,
        page=page,
        pages=pages,
        away=away,
        put_away=len(gone),
    )


def _answer(count: int, *, searched: bool, away: bool) -> str:
    if not count:
        return "No home is found." if searched else "There is no home here."
    said = sentence(in_words(count, "home")).rstrip(".")
    if away:
        return f"{said} put away."
    return f"{said} found." if searched else f"{said}."


def _home(entry: Entry, text: str, cards: Cards) -> Home:
    changed = moment(entry.changed) if entry.changed else ""
    if entry.errors:
        return Home(entry.id, entry.title, "", entry.file, changed, 0, False, entry.errors)  # noqa: FBT003 - a file waits for nothing
    facts = cards.known_facts(text) or ""
    waits = not (facts and cards.is_drawn(text))
    return Home(entry.id, entry.title, facts, entry.file, changed, entry.conflicts, waits)
