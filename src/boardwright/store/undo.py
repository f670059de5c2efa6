"""Which version undo and redo go to; both are new versions that repeat an old one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from boardwright.store.records import Change


@dataclass(frozen=True, slots=True)
class Steps:
    """The versions to repeat for a step back and a step forward; nothing where there is none."""

    back: int | None
    forward: int | None


def steps(history: Iterable[Change]) -> Steps:
    """Return where undo and redo go from the end of a history, oldest change first.

    A version that repeats one behind or ahead steps there; any other change is a step of its own,
    from which there is no way forward.
    """
    behind: list[int] = []
    ahead: list[int] = []
    for change in history:
        if change.restores is not None and change.restores in behind:
            while behind[-1] != change.restores:
                ahead.append(behind.pop())
        elif change.restores is not None and change.restores in ahead:
            while change.restores in ahead:
                behind.append(ahead.pop())
        else:
            behind.append(change.number)
            ahead.clear()
    back = behind[-2] if len(behind) > 1 else None
    return Steps(back, ahead[-1] if ahead else None)
