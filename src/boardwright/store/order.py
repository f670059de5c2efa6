"""The order of a list after two changes of it."""

from __future__ import annotations

from collections.abc import Sequence

Names = tuple[str, ...]


def ordered(base: Names, mine: Names, theirs: Names, kept: frozenset[str]) -> Names | None:
    """Return the kept names in an order that does both sides justice.

    One side may move what was there; what a side added stays behind the name it stood behind.
    Nothing comes back where both moved the same names differently.
    """
    common = {*base} & {*mine} & {*theirs} & kept
    before, ours, others = (
        [name for name in side if name in common] for side in (base, mine, theirs)
    )
    if ours in (before, others):
        spine = others
    elif others == before:
        spine = ours
    else:
        return None
    runs = [_runs(side, common, kept) for side in (mine, theirs)]
    # What neither side has any more, and yet is kept, clashes: its place does not matter.
    rest = sorted(kept - {*mine} - {*theirs})
    placed = [name for anchor in ("", *spine) for name in (anchor, *_joined(anchor, runs))]
    return tuple(dict.fromkeys(name for name in (*placed, *rest) if name))


def _runs(side: Names, common: set[str], kept: frozenset[str]) -> dict[str, Names]:
    """Return what a side has besides the common names, by the name it stands behind."""
    runs: dict[str, Names] = {}
    anchor = ""
    for name in side:
        if name in common:
            anchor = name
        elif name in kept:
            runs[anchor] = (*runs.get(anchor, ()), name)
    return runs


def _joined(anchor: str, runs: Sequence[dict[str, Names]]) -> Names:
    # Sorted, so that it does not matter whose list comes first.
    first, second = sorted(side.get(anchor, ()) for side in runs)
    return (*first, *second)
