"""A result of figures that are known only as ranges."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import exp, log, sqrt


@dataclass(frozen=True, slots=True)
class Range:
    """A figure above 0, by its 5 % and its 95 % point."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        """The geometric mean of the two: as far from the one as from the other, as a ratio."""
        return sqrt(self.low * self.high)


def spread(of: Callable[[Mapping[str, float]], float], ranges: Mapping[str, Range]) -> Range:
    """Return the 5 % and 95 % points of a result above 0.

    Each figure alone is moved to either end; the changes of the result's logarithm, upward and
    downward each for itself, are added by root of squares. First order, as the surge study does.
    """
    middle = {name: each.middle for name, each in ranges.items()}
    base = log(of(middle))
    up = down = 0.0
    for name, each in ranges.items():
        if each.low == each.high:
            continue
        moved = [log(of({**middle, name: end})) - base for end in (each.low, each.high)]
        up += max(0.0, *moved) ** 2
        down += min(0.0, *moved) ** 2
    return Range(exp(base - sqrt(down)), exp(base + sqrt(up)))
