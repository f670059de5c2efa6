"""Random small boards, the same for the same seed: every kind of board there is, and its wishes."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import islice

from boardwright.board.results import BoardPlan, Item, Role
from boardwright.job.board import Preferences, Wishes
from tests.board.boards import (
    BACKUP,
    INCOMER,
    SPD,
    SWITCH,
    board,
    circuit,
    device,
    enclosure,
    place,
    section_rcd,
)
from tests.board.exhaustive import every_order

KINDS = ("plain", "sections", "incomer", "comb", "comb incomer", "kept", "kept comb")
_MOST = {"sections": 4, "comb incomer": 2}
"""Circuits of which every arrangement on several rails is tried in a moment; of other kinds 3."""

_RATINGS_A = (6, 6, 10, 16, 20, 32, 40)
_WEIGHTS = (0, 1, 3, 40, 300, 1000)


def small_board(seed: int) -> tuple[BoardPlan, Wishes]:
    """Return a board of one to three rails, small enough to try every arrangement of it."""
    drawn = random.Random(seed)
    kind, rails = drawn.choice(KINDS), drawn.choice((1, 1, 2, 3))
    most = _MOST.get(kind, 3) if rails > 1 else 4
    circuits = _circuits(drawn, kind, drawn.randint(1, most))
    ahead = _ahead(drawn, kind)
    rcds = [section_rcd(x) for x in "abc" if any(one.section == x for one in circuits)]
    items = [*ahead, *rcds, *circuits]
    like = "ravel-r3-26" if "comb" in kind else "ravel-r1-16"
    sizes = _sizes(drawn, items, sum(i.device.modules for i in ahead), rails)
    plan = board(items, enclosure(sizes[0], drawn.choice(("left", "right")), *sizes[1:], like=like))
    if "kept" in kind:
        plan = _some_kept(drawn, plan)
    return plan, _wishes(drawn, [one.circuit_id for one in circuits])


def _circuits(drawn: random.Random, kind: str, count: int) -> list[Item]:
    ways = drawn.sample(range(1, count + 1), count)
    letters = "ab " if drawn.random() < 0.5 else "abc "
    return [_circuit(drawn, kind, k, (ways[k], letters)) for k in range(count)]


def _circuit(drawn: random.Random, kind: str, k: int, given: tuple[int, str]) -> Item:
    comb, (way, letters) = "comb" in kind, given
    three = comb and drawn.random() < 0.2
    one = circuit(
        f"c{k}",
        drawn.choice(_RATINGS_A),
        modules=1 if comb else drawn.choice((1, 1, 2)),
        section=drawn.choice(letters).strip() if kind == "sections" else "",
        continuous=drawn.random() < 0.5,
        ib_a=drawn.choice((2.0, 13.0)),
        found_way=way if drawn.random() < 0.6 else None,
        reach_mm=drawn.choice((None, 250.0, 280.0, 400.0)),
        phase=drawn.choice(("L1", "L2", "L3")) if comb and not three else "",
    )
    return replace(one, device=device(3, 16, three=True)) if three else one


def _ahead(drawn: random.Random, kind: str) -> list[Item]:
    """Return main switch, the SPD's branch in one of its forms, and the RCD for all."""
    backup = replace(BACKUP, device=device(3, 32, three=True)) if "comb" in kind else BACKUP
    branch = drawn.choice(([backup, SPD], [SPD], []))
    return [SWITCH, *branch, *([INCOMER] if "incomer" in kind else [])]


def _sizes(drawn: random.Random, items: list[Item], ahead: int, rails: int) -> list[int]:
    """Return the modules of each rail: the longest run fits on any, all fit on most."""
    taken = sum(item.device.modules for item in items)
    if rails == 1:
        return [taken + drawn.randint(0, 4)]
    runs = [sum(i.device.modules for i in items if i.section == x) for x in "abc"]
    run = max(ahead, *runs)
    least = max(run, -(-taken // rails))
    further = [drawn.randint(least, max(run, taken)) for _ in range(rails - 1)]
    return [drawn.randint(run, max(run, taken)), *further]


def _some_kept(drawn: random.Random, plan: BoardPlan) -> BoardPlan:
    """Return the board with some circuits as found, each where a lawful order has it."""
    orders = list(islice(every_order(plan), 400))
    if not orders:
        return plan
    there = place(plan, drawn.choice(orders))
    items = []
    for item in plan.items:
        at = there.placement(item.id)
        kept = item.role is Role.CIRCUIT and drawn.random() < 0.6
        where = {"fixed_module": at.module, "fixed_rail": at.rail, "role": Role.AS_FOUND}
        items.append(replace(item, **where) if kept else item)  # type: ignore[arg-type]
    return board(items, plan.enclosure)


def _wishes(drawn: random.Random, names: list[str]) -> Wishes:
    keys = Preferences.model_fields
    weights = {key: drawn.choice(_WEIGHTS) for key in keys if drawn.random() < 0.4}

    def groups() -> tuple[tuple[str, ...], ...]:
        if len(names) < 2:
            return ()
        sizes = [drawn.randint(2, min(3, len(names))) for _ in range(drawn.randint(0, 2))]
        return tuple(tuple(drawn.sample(names, size)) for size in sizes)

    return Wishes(keep_apart=groups(), keep_together=groups(), preferences=Preferences(**weights))
