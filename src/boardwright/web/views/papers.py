"""The handover page: the papers to print and keep, and the householder's words."""

from __future__ import annotations

import sys
from dataclasses import dataclass

from boardwright.core.errors import BoardwrightError
from boardwright.design import Design
from boardwright.documents.answer import answer
from boardwright.documents.figures import in_words, sentence
from boardwright.documents.pack_labels import householder
from boardwright.documents.shelf import Document, shelf
from boardwright.job.job import Job

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
class HandoverView:
    """Papers, what is still open before they are handed over, and the three plain answers."""

    answer: str
    open: str
    papers: tuple[Paper, ...]
    done: tuple[str, ...]
    press: tuple[str, ...]
    ask: tuple[str, ...]


def handover_view(design: Design) -> HandoverView:
    """Return what the handover page shows."""
    said, words = answer(design), householder(design)
    papers = tuple(
        Paper(d.file, d.title, _kind(d.file)[0], _about(d)) for d in _pack_first(shelf())
    )
    points = len(said.first) + len(said.then)
    return HandoverView(
        answer=f"{sentence(in_words(len(papers), 'paper')).rstrip('.')} to print or keep.",
        open=f"{sentence(in_words(points, 'point')).rstrip('.')} still open; the pack lists them."
        if points
        else "",
        papers=papers,
        done=tuple(words["done"]),
        press=tuple(words["press"]),
        ask=tuple(words["ask"]),
    )


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
