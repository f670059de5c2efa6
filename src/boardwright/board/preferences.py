"""What a good arrangement is: wishes in words, each with its weight.

The weights are common practice, no source: they put into numbers the order in which
electricians give way. The job may give any of them another weight, by its key.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from boardwright.job.board import Preferences

HEAVY_A = 10.0
"""From this design current a load that runs for hours warms its neighbours. [A]

Judgement: trade articles ask for spacing of heavy continuous loads and give no figure.
"""


class Aim(Enum):
    """What a wish counts, one unit of it."""

    SPD_NEAR = "module between main switch and SPD"
    LARGE_NEAR = "ampere of rating times module from the main switch"
    HEAT_APART = "pair of heavy continuous loads side by side"
    APART = "pair of neighbours among those to be kept apart"
    TOGETHER = "module by which those to be kept together are spread"
    LETTERS = "RCD section that stands before one of an earlier letter"
    AS_FOUND = "module by which a circuit moves from its way as found"
    REACH = "module by which the free cores of an existing cable fall short"


@dataclass(frozen=True, slots=True)
class Wanted:
    """One wish: its words and the whole number that one unit missed costs.

    ``key`` is its name in the job, ``wishes.preferences``.
    """

    aim: Aim
    name: str
    weight: int
    key: str = ""


PREFERENCES: tuple[Wanted, ...] = (
    Wanted(Aim.SPD_NEAR, "The SPD stands nearest the main switch", 1000, "spd_near"),
    Wanted(
        Aim.LETTERS, "RCD sections stand in the order of their letters", 500, "sections_lettered"
    ),
    Wanted(Aim.APART, "Circuits to be kept apart are no neighbours", 400, "kept_apart"),
    Wanted(Aim.HEAT_APART, "Heavy continuous loads are no neighbours", 300, "heavy_apart"),
    Wanted(Aim.REACH, "Existing cables reach their ways", 100, "cables_reach"),
    Wanted(Aim.TOGETHER, "Circuits to be kept together stand together", 60, "kept_together"),
    Wanted(Aim.AS_FOUND, "Circuits keep the order they had", 3, "order_kept"),
    Wanted(Aim.LARGE_NEAR, "Large circuits stand near the main switch", 1, "large_near"),
)
"""The wishes in the order in which they give way, the strongest first."""


def weighed(own: Preferences) -> tuple[Wanted, ...]:
    """Return the wishes, each with the person's own weight where the job gives one."""
    return tuple(replace(wish, weight=own.weight(wish.key, wish.weight)) for wish in PREFERENCES)
