"""Which version undo and redo go to; both are new versions that repeat an old one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Steps:
    """The versions to repeat for a step back and a step forward; nothing where there is none."""

    back: int | None
    forward: int | None


def steps(course: Iterable[tuple[int, int | None]]) -> Steps:
    """Return where undo and redo go from the end of a history.

    ``course`` has the number of each version, oldest first, and that of the one it repeats.
    A version that repeats one behind or ahead steps there; any other change is a step of its own,
    from which there is no way forward.
    """
    behind: list[int] = []
    ahead: list[int] = []
    for number, restores in course:
        if restores is not None and restores in behind:
            while behind[-1] != restores:
                ahead.append(behind.pop())
        elif restores is not None and restores in ahead:
            while restores in ahead:
                behind.append(ahead.pop())
        else:
            behind.append(number)
            ahead.clear()
    back = behind[-2] if len(behind) > 1 else None
    return Steps(back, ahead[-1] if ahead else None)
