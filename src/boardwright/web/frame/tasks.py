"""The eight tasks along the steel rule, and what of each is there today."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Task:
    """One task of the trade. ``worked`` is true where the program has worked it out."""

    key: str
    name: str
    worked: bool


TASKS = (
    Task("survey", "Survey", worked=True),
    Task("design", "Design", worked=True),
    Task("board", "Board", worked=True),
    Task("surge", "Surge", worked=True),
    Task("on-site", "On site", worked=False),
    Task("test", "Test", worked=False),
    Task("handover", "Handover", worked=False),
    Task("aftercare", "Aftercare", worked=False),
)


@dataclass(frozen=True, slots=True)
class Mark:
    """A task on the rule of one page: ``state`` is done, now or ahead."""

    task: Task
    state: str
    number: int


def rule(now: str) -> tuple[Mark, ...]:
    """Return the rule as it stands on the page of a task."""
    return tuple(
        Mark(task, "now" if task.key == now else "done" if task.worked else "ahead", number)
        for number, task in enumerate(TASKS, start=1)
    )
