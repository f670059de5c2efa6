"""The homes that a request speaks of."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request

from boardwright.web.devices.access import Access
from boardwright.web.homes.cards import Cards
from boardwright.web.homes.jobs import Jobs


def _jobs(request: Request) -> Jobs:
    jobs = request.app.state.jobs
    assert isinstance(jobs, Jobs)  # noqa: S101 - put there by create_app
    return jobs


def _access(request: Request) -> Access:
    access = request.app.state.access
    assert isinstance(access, Access)  # noqa: S101 - put there by create_app
    return access


def _cards(request: Request) -> Cards:
    cards = request.app.state.cards
    assert isinstance(cards, Cards)  # noqa: S101 - put there by create_app
    return cards


Homes = Annotated[Jobs, Depends(_jobs)]
"""What a route takes to reach the homes."""

Doors = Annotated[Access, Depends(_access)]
"""What a route takes to reach the devices that were let in."""

SmallBoards = Annotated[Cards, Depends(_cards)]
"""What a route takes to reach the cards of the list."""

__all__ = ["Doors", "Homes", "SmallBoards"]
