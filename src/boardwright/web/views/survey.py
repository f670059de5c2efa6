"""The survey page: one screen of the walk, with what is so of each answer and what it decides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from boardwright.core.errors import FieldError
from boardwright.core.findings import Finding
from boardwright.documents.words.figures import in_words, sentence
from boardwright.job.job import Job
from boardwright.standards.edition import Edition
from boardwright.web.views.asking import Group
from boardwright.web.views.decided import Decided, decided
from boardwright.web.views.fields import ASSUMED, KNOWN, UNKNOWN, Field
from boardwright.web.views.photos import Shot
from boardwright.web.views.stop import Stop
from boardwright.web.views.walk import PARTS, SECTIONS, groups, stops

_CAUTIONS = {
    "supply": (
        "Live parts.",
        "Look only. The cut-out is not yours to open; ask the network operator.",
    ),
    "board": ("Live parts behind the cover.", "Isolate, lock off, prove dead before it comes off."),
    ".readings": ("Dead first.", "Isolate, lock off, prove dead. Zs and leakage alone are live."),
}


Asked = Mapping[str, tuple[Group, ...]]
"""What every screen of the walk asks, by its key."""


@dataclass(frozen=True, slots=True)
class SectionLink:
    """One section in the list of all, with how much of it is open."""

    key: str
    title: str
    unknown: int
    assumed: int
    now: bool
    screens: tuple[tuple[str, str, bool], ...] = ()


@dataclass(frozen=True, slots=True)
class SurveyView:
    """One screen; ``next_key`` is empty at the walk's end, ``wrong`` is what no field shows."""

    key: str
    title: str
    answer: str
    groups: tuple[Group, ...]
    sections: tuple[SectionLink, ...]
    caution: tuple[str, str]
    parts: tuple[tuple[str, str, bool], ...]
    next_key: str
    next_title: str
    decided: Decided
    wrong: tuple[str, ...] = ()
    saved: str = ""
    photos: tuple[Shot, ...] = ()

    @property
    def fields(self) -> tuple[Field, ...]:
        """Every field of the screen."""
        return tuple(field for group in self.groups for field in group.fields)


@dataclass(frozen=True, slots=True)
class Typed:
    """What a person typed and ticked that could not be kept, and what is wrong, by path."""

    values: Mapping[str, str]
    wrong: Mapping[str, str]
    unplaced: tuple[str, ...] = ()
    unknown: frozenset[str] = frozenset()
    assumed: frozenset[str] = frozenset()


def survey_view(job: Job, edition: Edition, key: str, typed: Typed | None = None) -> SurveyView:
    """Return a screen of the survey; the first where the key names none that is there any more.

    Raises
    ------
    FieldError
        There is no such screen, nor was there.
    """
    walk = stops(job)
    at = place(walk, key)
    stop = walk[at]
    found = decided(job, edition, stop)
    asked = {each.key: groups(each, job) for each in walk}
    ahead = walk[at + 1] if at + 1 < len(walk) else None
    return SurveyView(
        key=stop.key,
        title=stop.title,
        answer=_answer(asked),
        groups=tuple(_noted(group, found, typed) for group in asked[stop.key]),
        sections=tuple(_sections(walk, asked, stop)),
        caution=_caution(stop),
        parts=_parts(stop),
        next_key=ahead.key if ahead else "",
        next_title=_after(ahead, stop),
        decided=found,
        wrong=typed.unplaced if typed else (),
    )


def place(walk: tuple[Stop, ...], key: str) -> int:
    """Return where a screen stands in the walk.

    Raises
    ------
    FieldError
        There is no such screen.
    """
    keys = [stop.key for stop in walk]
    if key not in keys:
        raise FieldError("section", key, f"a screen of the survey, as {', '.join(keys[:5])}")
    return keys.index(key)


def _answer(asked: Asked) -> str:
    fields = [field for own in asked.values() for group in own for field in group.fields]
    unknown = sum(field.state == UNKNOWN for field in fields)
    assumed = sum(field.state == ASSUMED for field in fields)
    if not unknown and not assumed:
        return "Everything asked is known."
    guessed = in_words(assumed, "assumed", "assumed")
    return f"{sentence(in_words(unknown, 'answer')).rstrip('.')} not known yet, {guessed}."


def _sections(walk: Sequence[Stop], asked: Asked, now: Stop) -> Iterator[SectionLink]:
    for key, title in SECTIONS:
        own = [stop for stop in walk if stop.section == key]
        fields = [field for stop in own for g in asked[stop.key] for field in g.fields]
        here = now.section == key
        screens = tuple(
            (stop.key, stop.title, stop.listed == now.listed)
            for stop in own[1:]
            if here and stop.key == stop.listed
        )
        yield SectionLink(
            key,
            title,
            sum(field.state == UNKNOWN for field in fields),
            sum(field.state == ASSUMED for field in fields),
            here and now.key == key,
            screens,
        )


def _parts(stop: Stop) -> tuple[tuple[str, str, bool], ...]:
    if not stop.circuit_id:
        return ()
    at = f"circuits.{stop.circuit_id}"
    return tuple((f"{at}{ending}", name, stop.key == f"{at}{ending}") for ending, name in PARTS)


def _caution(stop: Stop) -> tuple[str, str]:
    if stop.section == "board":
        return _CAUTIONS["board"]
    return _CAUTIONS.get(".readings" if stop.key.endswith(".readings") else stop.key, ("", ""))


def _after(ahead: Stop | None, now: Stop) -> str:
    if ahead is None:
        return "design"
    if ahead.circuit_id and ahead.circuit_id == now.circuit_id:
        return ahead.title.rpartition(": ")[2]
    return ahead.title if ahead.circuit_id else ahead.title[0].lower() + ahead.title[1:]


def _noted(group: Group, found: Decided, typed: Typed | None) -> Group:
    return replace(group, fields=tuple(_with(field, found, typed) for field in group.fields))


def _with(field: Field, found: Decided, typed: Typed | None) -> Field:
    """Return a field with what is so of it, and with what was typed where that was not kept."""
    finding: Finding | None = found.beside.get(field.path)
    wrong = found.wrong.get(field.path, "")
    if typed is None:
        return replace(field, finding=finding, wrong=wrong)
    return replace(
        field,
        value=typed.values.get(field.path, field.value),
        state=_ticked(field, typed),
        wrong=typed.wrong.get(field.path, wrong),
        finding=finding,
    )


def _ticked(field: Field, typed: Typed) -> str:
    """Return the state of a field as its marks were sent."""
    if field.state == "new" or field.path not in typed.values:
        return field.state
    if field.path in typed.unknown:
        return ASSUMED if field.must else UNKNOWN
    return ASSUMED if field.path in typed.assumed else KNOWN


__all__ = ["SurveyView", "Typed", "place", "survey_view"]
