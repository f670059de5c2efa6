"""What stands on top of every page of a home: undo, redo, history, and what waits for a choice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from starlette.requests import Request

from boardwright.core.errors import BoardwrightError
from boardwright.web.devices.access import Access
from boardwright.web.homes.jobs import Jobs


class OfAHome(Protocol):
    """A page that may be of a home."""

    @property
    def job_id(self) -> str:
        """Return the home's id, or nothing."""


@dataclass(frozen=True, slots=True)
class Tools:
    """The steps that may be taken, and where the page is served.

    ``waits`` counts the texts set aside that nobody has chosen about.
    """

    where: str
    version: int = 0
    event: int = 0
    back: int | None = None
    forward: int | None = None
    undoes: str = ""
    waits: int = 0


def tools_of(request: Request, page: OfAHome) -> Tools:
    """Return what the top of a page offers; for a home that cannot be read, nothing."""
    access = request.app.state.access
    network = isinstance(access, Access) and access.network is not None
    where = "for paired devices of this network" if network else "on this machine only"
    jobs = request.app.state.jobs
    if not page.job_id or not isinstance(jobs, Jobs):
        return Tools(where)
    try:
        last, found = jobs.store.latest(page.job_id).change, jobs.store.steps(page.job_id)
        pulse = jobs.store.pulse(page.job_id)
        waits = len(jobs.store.conflicts(page.job_id)) if pulse.aside else 0
    except BoardwrightError:
        return Tools(where)
    undoes = f"{last.stamp.why}, {last.stamp.who}"
    return Tools(where, last.number, pulse.event, found.back, found.forward, undoes, waits)


__all__ = ["Tools", "tools_of"]
