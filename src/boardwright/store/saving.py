"""A text on its way to become a version: alone, merged with another's, or set aside."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, Engine

from boardwright.store import conflicts, texts, versions
from boardwright.store.conflicts import Aside, Conflict
from boardwright.store.engine import reading, writing
from boardwright.store.errors import StoreError
from boardwright.store.records import Change, Stamp, Version, digest
from boardwright.store.texts import Joined

_TRIES = 100
"""Each try that fails means that somebody else has saved."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A text that is to be saved, and the version that its writer had read."""

    job_id: str
    text: str
    stamp: Stamp
    base: int
    restores: int | None = None
    settles: int | None = None


@dataclass(frozen=True, slots=True)
class _Plan:
    """What is to be written, unless somebody saves before."""

    draft: Draft
    base: Version
    theirs: Version
    joined: Joined
    title: str


def keep(engine: Engine, draft: Draft) -> Version | Conflict:
    """Keep a draft; whoever saves at the same moment waits or is merged, and loses nothing.

    Raises
    ------
    BoardwrightError
        The text is no job or another one, or the store cannot keep it.
    """
    title = texts.read(draft.text, draft.job_id).title
    for _ in range(_TRIES):
        # Merging takes longer than writing, so it is done while others may still save.
        plan = _plan(engine, draft, title)
        with writing(engine) as connection:
            versions.lock_job(connection, draft.job_id)
            if versions.pulse(connection, draft.job_id).version == plan.theirs.number:
                return _written(connection, plan)
    raise StoreError(f"{draft.job_id}: others save without a pause. Nothing was saved; try again.")


def _plan(engine: Engine, draft: Draft, title: str) -> _Plan:
    with reading(engine) as connection:
        base = versions.version(connection, draft.job_id, draft.base)
        theirs = versions.latest(connection, draft.job_id)
    joined = texts.join(draft.job_id, base.text, draft.text, theirs.text)
    if joined.clean and joined.text != draft.text:
        title = texts.read(joined.text, draft.job_id).title
    return _Plan(draft, base, theirs, joined, title)


def _written(connection: Connection, plan: _Plan) -> Version | Conflict:
    draft, theirs = plan.draft, plan.theirs
    change = _change(plan)
    before = versions.sent_before(connection, change)
    if before is not None:
        return before
    conflicts.need_open(connection, draft.job_id, draft.settles)
    if not plan.joined.clean:
        return _set_aside(connection, plan)
    says_nothing_new = plan.joined.text == theirs.text
    if says_nothing_new and draft.restores is None and draft.settles is None:
        return theirs
    new = Version(change, plan.joined.text)
    versions.add_version(connection, new)
    return new


def _change(plan: _Plan) -> Change:
    draft = plan.draft
    return Change(
        job_id=draft.job_id,
        number=plan.theirs.number + 1,
        title=plan.title,
        stamp=draft.stamp,
        base=draft.base,
        sent=digest(draft.text),
        restores=draft.restores,
        settles=draft.settles,
    )


def _set_aside(connection: Connection, plan: _Plan) -> Conflict:
    draft = plan.draft
    number = conflicts.next_aside(connection, draft.job_id)
    mine = Aside(draft.job_id, number, draft.text, draft.stamp, draft.base)
    kept = conflicts.set_aside(connection, mine)
    return conflicts.conflict(kept, plan.base, plan.theirs, plan.joined)
