"""Groups of fields: a part of the job asked under one heading, or a part that may be added."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardwright.job.base import Surveyed
from boardwright.job.job import Job
from boardwright.web.views.fields import Field, field_of
from boardwright.web.views.lists import lists_of
from boardwright.web.views.questions import Question


@dataclass(frozen=True, slots=True)
class Link:
    """One item of a list, which has a screen of its own; ``moves`` if its place says something."""

    key: str
    name: str
    about: str = ""
    moves: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Fields under one heading.

    ``at`` is the path of a part that is not there yet and that these fields would begin;
    ``removes`` and ``copies`` are paths that a button takes away or repeats.
    """

    heading: str
    at: str
    fields: tuple[Field, ...]
    links: tuple[Link, ...] = ()
    removes: str = ""
    remove_words: str = ""
    copies: str = ""
    note: str = ""
    folded: bool = False


class Asking:
    """Asks questions about the parts of one home."""

    def __init__(self, job: Job) -> None:
        """Take the home that is asked about."""
        self.job = job
        self._lists = lists_of(job)

    def group(self, heading: str, model: Surveyed, at: str, asked: Sequence[Question]) -> Group:
        """Return the fields of a part that is there."""
        return Group(heading, "", self._fields(model, at, asked))

    def new(self, heading: str, kind: type[Surveyed], at: str, asked: Sequence[Question]) -> Group:
        """Return the empty fields of a part that may be added."""
        fields = (replace(field, state="new") for field in self._fields(kind, at, asked))
        return Group(heading, at, tuple(fields), folded=True)

    def _fields(
        self, model: Surveyed | type[Surveyed], at: str, asked: Sequence[Question]
    ) -> tuple[Field, ...]:
        assumed = self.job.assumed
        return tuple(field_of(model, at, each, self._lists, assumed) for each in asked)


def removed(group: Group, path: str, words: str) -> Group:
    """Return a group with a button that takes its part away."""
    return replace(group, removes=path, remove_words=words)


__all__ = ["Asking", "Group", "Link", "removed"]
