"""Two versions made one, as somebody chose field by field; what did not clash is kept of both."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from boardwright.core.errors import FieldError
from boardwright.job.edit import Edit, edited
from boardwright.store.conflicts import Conflict
from boardwright.store.merge import ABSENT, Tree
from boardwright.store.texts import join

MINE, THEIRS = "mine", "theirs"


def settled(conflict: Conflict, chosen: Mapping[str, str]) -> str:
    """Return the text that has the chosen value of each field; a path without a choice is refused.

    Raises
    ------
    BoardwrightError
        A choice is missing, or the two still do not go together.
    """
    for clash in conflict.clashes:
        if chosen.get(clash.path) not in (MINE, THEIRS):
            raise FieldError(clash.path, chosen.get(clash.path, ""), "a choice: mine or theirs")
    job_id = conflict.mine.job_id
    taken = [c for c in conflict.clashes if chosen[c.path] == MINE]
    left = [c for c in conflict.clashes if chosen[c.path] == THEIRS]
    mine = edited(conflict.mine.text, [Edit(c.path, _value(c.theirs)) for c in left], job_id)
    theirs = edited(conflict.theirs.text, [Edit(c.path, _value(c.mine)) for c in taken], job_id)
    joined = join(job_id, conflict.base.text, mine, theirs)
    if not joined.clean:
        raise FieldError("choice", joined.reason, "one of the two as a whole")
    return joined.text


def whole(conflict: Conflict, chosen: str) -> str:
    """Return one of the two texts as it is.

    Raises
    ------
    FieldError
        The choice is none of the two.
    """
    texts = {MINE: conflict.mine.text, THEIRS: conflict.theirs.text}
    if chosen not in texts:
        raise FieldError("whole", chosen, "mine or theirs")
    return texts[chosen]


def open_conflict(conflicts: Sequence[Conflict], number: int) -> Conflict:
    """Return the conflict of a number.

    Raises
    ------
    FieldError
        None of that number waits.
    """
    for conflict in conflicts:
        if conflict.mine.number == number:
            return conflict
    raise FieldError("number", number, "a text that waits for a choice")


def _value(value: Tree) -> Tree:
    return None if value is ABSENT else value


__all__ = ["MINE", "THEIRS", "open_conflict", "settled", "whole"]
