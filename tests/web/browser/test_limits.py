"""The phone judges a reading as the library does: the same figures, the same verdict."""

from __future__ import annotations

import random
from typing import Any

import pytest

from boardwright.verification.limits import Limit, over_range, verdict_of
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.limits import home_limits, limit_json
from tests.web.browser.conftest import Tab

pytestmark = pytest.mark.browser

EACH = 60
DECIDE = """async cases => {
  const { counted, readingOf, verdictOf } = await import('/static/limits.js');
  return cases.map(([limit, typed, others]) => {
    const { verdict, bound } = verdictOf(limit, counted(limit, readingOf(limit, typed)), others);
    return [verdict, bound?.words ?? '']; }); }"""


@pytest.mark.parametrize("name", ["semi", "cottage", "three-phase"])
def test_every_verdict_of_the_phone_is_the_librarys(name: str, jobs: Jobs, tab: Tab) -> None:
    chance = random.Random(name)
    job = jobs.load(name)
    found = home_limits(job, jobs.edition(job))
    cases: list[tuple[Any, str, dict[str, float]]] = []
    expected: list[list[str]] = []
    for limits in (found.origin, *found.circuits.values()):
        for limit in limits:
            for _ in range(EACH):
                others = {each.reading: round(chance.uniform(0, 2), 2) for each in limits}
                typed = _typed(limit, others, chance)
                verdict, bound = verdict_of(limit, _counted(limit, typed), others)
                cases.append((limit_json(limit), typed, others))
                expected.append([verdict.value, bound.words if bound else ""])

    page = tab.open(f"/jobs/{name}/test")

    assert page.evaluate(DECIDE, cases) == expected
    assert {verdict for verdict, _ in expected} == {"pass", "fail", "advise", "not applicable"}


def _typed(limit: Limit, others: dict[str, float], chance: random.Random) -> str:
    """Return a reading near where its verdict turns, as a person would type it."""
    if limit.seen:
        return chance.choice(("yes", "no"))
    edges = [
        getattr(bound, "limit", None) or getattr(bound, "due_ohm", None) or 1.0
        for bound in limit.bounds
    ] or [1.0]
    near = chance.choice((*edges, others.get("r1_ohm", 1.0)))
    figure = near * chance.choice((0.5, 0.9, 1.0, 1.0, 1.04, 1.2, 3.0))
    shown = f"{figure:.{chance.randint(0, 17)}f}"
    return f">{shown}" if chance.random() < 0.1 else shown


def _counted(limit: Limit, typed: str) -> float | str:
    if limit.seen:
        return typed
    return over_range(limit, float(typed[1:])) if typed.startswith(">") else float(typed)
