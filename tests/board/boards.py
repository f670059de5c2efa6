"""Small boards for the tests, and every arrangement of them by trying them all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import (
    combinations,
    combinations_with_replacement,
    pairwise,
    permutations,
    product,
)
from math import ceil

from boardwright.board.legal import faults
from boardwright.board.results import Arrangement, BoardPlan, Item, Placement, Role, Scheme
from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import ConductorName, DeviceType, Kind, Terminal
from boardwright.catalogue.enclosures import EnclosureType, Rail
from boardwright.catalogue.load import load_catalogue
from boardwright.job.board import Wishes


@cache
def catalogue() -> Catalogue:
    """Return the catalogue that ships with the program."""
    return load_catalogue()


def enclosure(
    modules: int, hand: str = "left", *further: int, like: str = "ravel-r1-16"
) -> EnclosureType:
    """Return an enclosure with a rail of so many modules, and further ones below it."""
    found = catalogue().enclosures[like]
    rails = tuple(
        Rail(x_mm=40, y_mm=120 + 178 * (len(further) - k), modules=count)
        for k, count in enumerate((modules, *further))
    )
    return found.model_copy(update={"hand": hand, "rails": rails})


def device(modules: int = 1, in_a: float | None = 16, *, three: bool = False) -> DeviceType:
    """Return a device of some width, its busbar terminals one a module."""
    conductors: tuple[ConductorName, ...] = ("L1", "L2", "L3") if three else ("L",)
    return DeviceType(
        id=f"d{modules}-{in_a}-{three}",
        maker="Ravel",
        family="test",
        kind=Kind.MCB,
        name="device",
        modules=modules,
        poles=1,
        in_a=in_a,
        permitted_families=("ravel-r1",),
        terminals=tuple(
            Terminal(
                name=f"{conductor}-in",
                conductor=conductor,
                side="bottom",
                offset_mm=8.9 + 17.8 * k,
                role="supply",
                capacity_mm2=16,
                torque_nm=2,
                busbar=True,
            )
            for k, conductor in enumerate(conductors)
        ),
    )


USUAL = {
    "spd_near": 1000,
    "sections_lettered": 500,
    "kept_apart": 400,
    "heavy_apart": 300,
    "cables_reach": 100,
    "kept_together": 60,
    "order_kept": 3,
    "large_near": 1,
}
"""The weights as docs/arrangement.md has them."""

SWITCH = Item("main-switch", Role.MAIN_SWITCH, device(2, 100), "Main switch")
BACKUP = Item("spd-backup", Role.SPD_BACKUP, device(1, 32), "SPD back-up")
SPD = Item("spd", Role.SPD, device(2, None), "SPD")
INCOMER = Item("incomer-rcd", Role.INCOMER_RCD, device(2, 100), "RCD")


def section_rcd(letter: str) -> Item:
    """Return the RCD of a section."""
    return Item(f"rcd-{letter}", Role.SECTION_RCD, device(2, 63), letter, section=letter)


def circuit(name: str, in_a: float = 16, *, modules: int = 1, **more: object) -> Item:
    """Return a circuit's item; ``more`` are further fields of it."""
    item = Item(f"way-{name}", Role.CIRCUIT, device(modules, in_a), name, circuit_id=name)
    for key, value in more.items():
        object.__setattr__(item, key, value)
    return item


def board(items: Sequence[Item], where: EnclosureType | None = None) -> BoardPlan:
    """Return a plan of the items, in an enclosure with two modules to spare if none is given."""
    taken = sum(item.device.modules for item in items)
    return BoardPlan(Scheme.NEW_BOARD, where or enclosure(taken + 2), tuple(items), ())


def place(plan: BoardPlan, starts: Sequence[int]) -> Arrangement:
    """Return the items at places counted in modules from the main switch's end."""
    placed = []
    for item, start in zip(plan.items, starts, strict=True):
        width = item.device.modules
        number, at = _on_rail(plan, start)
        rail = plan.enclosure.rails[number]
        module = rail.modules - at - width if plan.enclosure.hand == "right" else at
        way = 0 if item.role is Role.MAIN_SWITCH else start - 1
        placed.append(Placement(item, number, module, way, rail.x_mm + 17.8 * module, rail.y_mm))
    return Arrangement(plan.scheme, plan.enclosure, tuple(placed), 0, (), proven=False, gap=1.0)


def starts_of(plan: BoardPlan, found: Arrangement) -> tuple[int, ...]:
    """Return the places of an arrangement, in the order of the plan."""
    places = []
    for item in plan.items:
        there = found.placement(item.id)
        before = sum(rail.modules for rail in plan.enclosure.rails[: there.rail])
        after = plan.enclosure.rails[there.rail].modules - there.module - item.device.modules
        places.append(before + (after if plan.enclosure.hand == "right" else there.module))
    return tuple(places)


def _on_rail(plan: BoardPlan, start: int) -> tuple[int, int]:
    """Return the rail of a place counted over all rails, and the place along it."""
    number = 0
    while start >= plan.enclosure.rails[number].modules and number + 1 < len(plan.enclosure.rails):
        start -= plan.enclosure.rails[number].modules
        number += 1
    return number, start


def packed_orders(plan: BoardPlan) -> Iterator[tuple[int, ...]]:
    """Yield the places of every legal order without gaps, cut into rails in every way.

    Orders that do not begin with the main switch are not even tried: it stands at its end.
    """
    rails = plan.enclosure.rails
    for order in permutations(range(len(plan.items))):
        if order and plan.items[order[0]].role is not SWITCH.role:
            continue
        for cuts in combinations_with_replacement(range(len(order) + 1), len(rails) - 1):
            runs = [order[a:b] for a, b in pairwise((0, *cuts, len(order)))]
            starts = [0] * len(order)
            for number, run in enumerate(runs):
                at = sum(rail.modules for rail in rails[:number])
                for k in run:
                    starts[k] = at
                    at += plan.items[k].device.modules
            widths = [sum(plan.items[k].device.modules for k in run) for run in runs]
            fits = all(w <= rail.modules for w, rail in zip(widths, rails, strict=True))
            if fits and not faults(place(plan, starts)):
                yield tuple(starts)


def all_places(plan: BoardPlan) -> Iterator[tuple[int, ...]]:
    """Yield the places of every legal arrangement, gaps and all."""
    room = plan.enclosure.modules
    spans = [range(room - item.device.modules + 1) for item in plan.items]
    for starts in product(*spans):
        if not faults(place(plan, starts)):
            yield tuple(starts)


def cost(plan: BoardPlan, starts: Sequence[int], wishes: Wishes) -> int:
    """Return what an arrangement pays, worked out from the words of docs/arrangement.md."""
    at = dict(zip((item.id for item in plan.items), starts, strict=True))
    switch = sum(i.device.modules for i in plan.items if i.role is Role.MAIN_SWITCH)
    branch = [i for i in plan.items if i.role in {Role.SPD_BACKUP, Role.SPD, Role.INCOMER_RCD}]

    def away(place: int) -> int:
        """Count along the rail, and down the side to a rail below: 10 modules for 178 mm."""
        number, along = _on_rail(plan, place)
        return along + 10 * number - switch

    spd = [away(at[i.id]) for i in branch if i.role in {Role.SPD_BACKUP, Role.SPD}]
    circuits = [i for i in plan.items if i.role is Role.CIRCUIT]
    weight: dict[str, int] = {**USUAL, **wishes.preferences.model_dump(exclude_none=True)}
    paid = weight["spd_near"] * min(spd, default=0)
    near = sum(round(i.device.in_a or 0) * away(at[i.id]) for i in circuits)
    paid += weight["large_near"] * near
    rcds = sorted((i for i in plan.items if i.role is Role.SECTION_RCD), key=lambda i: at[i.id])
    turned = sum(one.section > other.section for one, other in combinations(rcds, 2))
    paid += weight["sections_lettered"] * turned
    wanted = switch + sum(i.device.modules for i in branch)
    for item in sorted((i for i in circuits if i.found_way), key=lambda i: i.found_way or 0):
        moved = abs(at[item.id] - wanted)
        paid += weight["order_kept"] * moved
        here, there = _on_rail(plan, at[item.id]), _on_rail(plan, wanted)
        along = abs(here[1] - there[1])
        paid += weight["cables_reach"] * _short(plan, item, along)
        wanted += item.device.modules
    heavy = [i for i in plan.items if i.continuous and i.ib_a >= 10]
    paid += weight["heavy_apart"] * _meetings(plan, heavy, at)
    by_id = {i.circuit_id: i for i in plan.items if i.circuit_id}
    for group in wishes.keep_apart:
        paid += weight["kept_apart"] * _meetings(plan, [by_id[c] for c in group if c in by_id], at)
    for group in wishes.keep_together:
        inside = [by_id[c] for c in group if c in by_id]
        if len(inside) > 1:
            first = min(at[i.id] for i in inside)
            last = max(at[i.id] + i.device.modules for i in inside)
            paid += weight["kept_together"] * (last - first - sum(i.device.modules for i in inside))
    return paid


def _short(plan: BoardPlan, item: Item, moved: int) -> int:
    """Return the modules that free cores lack: along the board, down to the bar, 20 mm to spare.

    The devices of these boards have no load terminals, and their enclosure, a Ravel R1 of one
    rail, is entered from the top and has its neutral bar at 30 mm.
    """
    if item.reach_mm is None:
        return 0
    bars = [b for b in plan.enclosure.bars if b.conductor == "N" and b.section == item.section]
    down_mm = max((plan.enclosure.height_mm - bar.y_mm for bar in bars), default=0.0)
    lacks_mm = moved * 17.8 + down_mm + 20 - item.reach_mm
    return max(0, ceil(lacks_mm / 17.8))


def _meetings(plan: BoardPlan, items: Sequence[Item], at: dict[str, int]) -> int:
    begins = {at[i.id] for i in items if _on_rail(plan, at[i.id])[1] > 0}
    return sum(at[i.id] + i.device.modules in begins for i in items)
