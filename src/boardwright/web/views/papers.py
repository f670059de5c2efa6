"""The handover page: the papers to print and keep, and the householder's words."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardwright.core.errors import BoardwrightError
from boardwright.design import Design
from boardwright.documents.pack.householder import householder
from boardwright.documents.shelf import Document, shelf
from boardwright.documents.words.figures import in_words, sentence
from boardwright.job.job import Job
from boardwright.store.events import Event
from boardwright.web.devices.stamps import NOBODY
from boardwright.web.homes.issues import Issue, issues, open_points
from boardwright.web.homes.taken import on_site
from boardwright.web.look.moments import moment
from boardwright.web.views.readings import readings_view
from boardwright.web.views.ticks import ticks_of

_KINDS = {
    "pdf": ("PDF to print", "application/pdf"),
    "svg": ("drawing", "image/svg+xml"),
    "csv": ("spreadsheet", "text/csv; charset=utf-8"),
    "json": ("for other programs", "application/json"),
    "txt": ("plain text", "text/plain; charset=utf-8"),
    "dxf": ("DXF drawing", "image/vnd.dxf"),
    "ics": ("calendar", "text/calendar; charset=utf-8"),
}
_UNKNOWN_KIND = ("file", "application/octet-stream")


class UnknownPaper(BoardwrightError):  # noqa: N818 - it is no error of the job's
    """No paper goes by that name."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper of the shelf, with the sentence that it says of itself."""

    file: str
    title: str
    kind: str
    about: str


@dataclass(frozen=True, slots=True)
class Issued:
    """One pack that was handed out."""

    number: int
    mark: str
    digest: str
    who: str
    at: str
    version: int
    open: str


@dataclass(frozen=True, slots=True)
class HandoverView:
    """What is missing, the pack as it would be handed out, the papers, the three plain answers.

    ``stale`` says that the last pack handed out is not of what the home is now.
    """

    answer: str
    forbidden: bool
    missing: tuple[str, ...]
    work: tuple[str, ...]
    mark: str
    preview: int
    issued: tuple[Issued, ...]
    stale: str
    papers: tuple[Paper, ...]
    plain_title: str
    done: tuple[str, ...]
    press: tuple[str, ...]
    ask: tuple[str, ...]


def handover_view(
    design: Design, events: Sequence[Event] = (), *, preview: int = 0
) -> HandoverView:
    """Return what the handover page shows; ``preview`` is how many pages its pictures have."""
    words = householder(design, on_site(events))
    papers = tuple(
        Paper(d.file, d.title, _kind(d.file)[0], _about(d)) for d in _pack_first(shelf())
    )
    issued = issued_rows(events)
    missing, work = open_points(design), tuple(_work(design, events))
    return HandoverView(
        answer=_answer(design, missing, issued),
        forbidden=design.forbids_work,
        missing=missing,
        work=work,
        mark=design.mark,
        preview=preview,
        issued=issued,
        stale=_stale(design, issued) or _read_since(events),
        papers=papers,
        plain_title=str(words["title"]),
        done=tuple(words["done"]),
        press=tuple(words["press"]),
        ask=tuple(words["ask"]),
    )


def issued_rows(events: Sequence[Event]) -> tuple[Issued, ...]:
    """Return every pack that was handed out, the last first."""
    return tuple(map(_issued, issues(events)))


def _answer(design: Design, missing: tuple[str, ...], issued: tuple[Issued, ...]) -> str:
    if design.forbids_work:
        return "The pack cannot be issued: the work must not go ahead."
    if issued and issued[0].mark == design.mark:
        return f"Issued {issued[0].at}."
    if not missing:
        return "The pack can be issued; nothing is open."
    points = in_words(len(missing), "point is", "points are")
    return f"The pack can be issued; {points} still open, and it lists them."


def _work(design: Design, events: Sequence[Event]) -> Iterator[str]:
    """Yield how far the work at the board is, as it was ticked and read."""
    steps = design.chosen.wiring.steps
    done = ticks_of(events, steps).done
    yield f"Work on site: {done} of {in_words(len(steps), 'step')} done."
    yield f"Readings: {readings_view(design.job, design.edition, events, '', {}).answer}"


def _issued(found: Issue) -> Issued:
    count = len(found.open_points)
    return Issued(
        number=found.number,
        mark=found.mark,
        digest=found.digest,
        who="" if found.who == NOBODY else found.who,
        at=moment(found.at),
        version=found.version,
        open=in_words(count, "point open", "points open") if count else "nothing open",
    )


def _stale(design: Design, issued: tuple[Issued, ...]) -> str:
    if not issued or issued[0].mark == design.mark:
        return ""
    return (
        f"The design has changed since: it is {design.mark} now, {issued[0].mark} was handed out. "
        "Take the old pack back when you issue the new one."
    )


def _read_since(events: Sequence[Event]) -> str:
    """Say that readings came in after the last pack was handed out."""
    last = next(iter(issues(events)), None)
    if last is None or on_site(events) == on_site([e for e in events if e.number <= last.number]):
        return ""
    return "Readings were taken since: issue the pack again, and take the old one back."


def paper(name: str) -> tuple[Document, str]:
    """Return a paper of the shelf by its file, and its media type.

    Raises
    ------
    UnknownPaper
        The shelf has no such paper.
    """
    for document in shelf():
        if document.file == name:
            return document, _kind(name)[1]
    raise UnknownPaper("No paper here goes by that name.")


def file_name(job: Job, name: str) -> str:
    """Return the name under which a paper is saved: the job's id keeps two homes apart."""
    return f"{job.id}-{name}"


def _pack_first(documents: tuple[Document, ...]) -> tuple[Document, ...]:
    return tuple(sorted(documents, key=lambda document: document.file != "pack.pdf"))


def _about(document: Document) -> str:
    """Return the first sentence of the module that makes the paper: it is written for readers."""
    said = (sys.modules[document.build.__module__].__doc__ or "").partition("\n")[0]
    title = f"the {document.title}: ".lower()
    # The title stands above it already.
    return sentence(said[len(title) :] if said.lower().startswith(title) else said)


def _kind(file: str) -> tuple[str, str]:
    return _KINDS.get(file.rsplit(".", 1)[-1], _UNKNOWN_KIND)
