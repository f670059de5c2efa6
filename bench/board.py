"""The order of the devices: our search against another solver, and against trying all orders."""

import random
import sys
from pathlib import Path

from bench.harness import Ratio, compare

sys.path.insert(0, str(Path(__file__).parents[1]))

from boardwright.board.arrange import arrange
from boardwright.board.results import BoardPlan, Item
from boardwright.job.board import Wishes
from tests.board.boards import BACKUP, SPD, SWITCH, board, circuit, cost, enclosure, packed_orders
from tests.board.test_oracle import least_cost

TITLE = "Board: the search against OR-tools CP-SAT, and against every order"
RATINGS = (45, 40, 32, 32, 32, 32, 20, 20, 16, 16, 16, 10, 10, 6, 6, 6)


def circuits(count: int, seed: int) -> list[Item]:
    """Return circuits as homes have them: some wide, some heavy, most with a way as found."""
    drawn = random.Random(seed)
    ways = drawn.sample(range(1, count + 1), count)
    return [
        circuit(
            f"c{k}",
            drawn.choice(RATINGS),
            modules=drawn.choice((1, 1, 1, 2)),
            continuous=drawn.random() < 0.3,
            ib_a=13.0,
            found_way=way if drawn.random() < 0.7 else None,
        )
        for k, way in enumerate(ways)
    ]


def _fitting(rails: tuple[int, ...], seed: int) -> BoardPlan:
    room = sum(rails) - sum(item.device.modules for item in (SWITCH, BACKUP, SPD)) - len(rails)
    kept: list[Item] = []
    for item in circuits(room, seed):
        if sum(other.device.modules for other in kept) + item.device.modules <= room:
            kept.append(item)
    where = enclosure(rails[0], "left", *rails[1:])
    return board([SWITCH, BACKUP, SPD, *kept], where)


def pulling(plan: BoardPlan, seed: int, groups: int = 3) -> Wishes:
    """Return wishes that pull against one another: so many groups together, so many apart."""
    drawn = random.Random(seed)
    names = [item.circuit_id for item in plan.items if item.circuit_id]
    together, apart = (
        tuple(tuple(drawn.sample(names, drawn.choice((2, 3, 4)))) for _ in range(groups))
        for _ in range(2)
    )
    return Wishes(keep_together=together, keep_apart=apart)


def measure() -> list[Ratio]:
    """Time boards of a home, of 24 ways, of two and of three rails.

    All are proven but that with six groups each way: it is given up by its nodes, its gap told.
    """
    small = board([SWITCH, BACKUP, SPD, *circuits(4, 1)])
    home = board([SWITCH, BACKUP, SPD, *circuits(9, 2)])
    ways_24 = _fitting((26,), 3)
    large = _fitting((18, 18, 18), 5)
    wishes = Wishes()
    every = compare(
        {"seven devices": lambda: arrange(small, wishes)},
        reference="every order of seven devices",
        work=lambda: min(cost(small, starts, wishes) for starts in packed_orders(small)),
    )
    other = compare(
        {
            "nine circuits": lambda: arrange(home, wishes),
            "24 ways": lambda: arrange(ways_24, wishes),
            "two rails of 18": lambda: arrange(_fitting((18, 18), 4), wishes),
            "three rails of 18": lambda: arrange(large, wishes),
            "24 ways, many wishes": lambda: arrange(ways_24, pulling(ways_24, 3)),
            "three rails, many wishes": lambda: arrange(large, pulling(large, 5)),
            "three rails, twice as many": lambda: arrange(large, pulling(large, 5, groups=6)),
        },
        reference="CP-SAT, nine circuits",
        work=lambda: least_cost(home, wishes),
        repeats=2,
    )
    return [*every, *other]
