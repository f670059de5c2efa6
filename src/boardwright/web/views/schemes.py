"""What can be done: every scheme side by side, in the words of the page for the customer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from boardwright.core.findings import Verdict
from boardwright.design import Design
from boardwright.documents.pack.schemes_page import content
from boardwright.documents.words.figures import verdict_word


@dataclass(frozen=True, slots=True)
class Point:
    """One point against a scheme, or one still to be proved."""

    verdict: Verdict
    word: str
    subjects: str
    said: str
    do: str


@dataclass(frozen=True, slots=True)
class Scheme:
    """One scheme; ``facts`` come in one order for all, an empty one where it has none."""

    name: str
    proposed: bool
    facts: tuple[tuple[str, str], ...]
    untouched: str
    against: tuple[Point, ...]
    more: str
    proved: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Schemes:
    """All schemes, those out of the question with the reason, and where the hours come from."""

    said: str
    all: tuple[Scheme, ...]
    out: tuple[tuple[str, str], ...]
    hours: str


def schemes_view(design: Design) -> Schemes:
    """Return the schemes as the page for the customer has them."""
    page = content(design)
    names = tuple(dict.fromkeys(name for each in page["schemes"] for name, _ in each["facts"]))
    return Schemes(
        said=page["said"],
        all=tuple(_scheme(each, names) for each in page["schemes"]),
        out=tuple((name, why) for name, why in page["out"]),
        hours=page["hours"],
    )


def _scheme(each: dict[str, Any], names: Iterable[str]) -> Scheme:
    known = dict(each["facts"])
    return Scheme(
        name=each["name"],
        proposed=each["proposed"],
        facts=tuple((name, known.get(name, "")) for name in names),
        untouched=each["untouched"],
        against=tuple(map(_point, each["against"])),
        more=each["more"],
        proved=tuple(map(_point, each["proved"])),
    )


def _point(each: dict[str, Any]) -> Point:
    verdict = Verdict(each["verdict"])
    return Point(verdict, verdict_word(verdict), each["subjects"], each["said"], each["do"])
