"""Where each end of a joint stands: device terminals, bars, and what comes in from outside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from boardwright.board.results import Placement, Role
from boardwright.catalogue.devices import Terminal
from boardwright.catalogue.enclosures import Bar
from boardwright.wiring.geometry import Anchor, bar_anchor, device_anchor, entry_anchors
from boardwright.wiring.joint import Joint
from boardwright.wiring.layout import Layout
from boardwright.wiring.results import SECOND_LEG
from boardwright.wiring.slots import SPD_WEIGHT, Request, allot

_CORE_MM = 1.6
_PASS_MM = {"L": -5.2, "L1": -6.0, "L2": -4.0, "L3": 4.0, "N": 5.2, "PE": 0.0}
_LEG_MM = 4.0


@dataclass(frozen=True, slots=True)
class Spot:
    """One end in its place; ``bar`` or ``terminal`` is what it is fixed by, if in the board."""

    name: str
    anchor: Anchor
    terminal: Terminal | None = None
    placement: Placement | None = None
    bar: Bar | None = None
    number: int = 0


@dataclass(frozen=True)
class Places:
    """The places of all ends of a board's joints."""

    layout: Layout
    joints: tuple[Joint, ...]

    @cached_property
    def bars(self) -> Mapping[str, Bar]:
        """The bars by id."""
        return {bar.id: bar for bar in self.layout.arrangement.enclosure.bars}

    def spot(self, name: str, other: str, joint: Joint) -> Spot:
        """Return the place of an end; ``other`` is the joint's other end."""
        if name in self.bars:
            bar, number = self.bars[name], self.numbers[name][joint.id]
            above = self._height_mm(other) > bar.y_mm
            anchor = bar_anchor(bar, number, from_above=above)
            return Spot(f"{name}.{number}", anchor, bar=bar, number=number)
        device = self._device(name)
        if device is None:
            return Spot(name, self.outside[name])
        shift_mm = self._beside_mm(name, joint)
        anchor = replace(device.anchor, x_mm=device.anchor.x_mm + shift_mm)
        return replace(device, anchor=anchor)

    def _beside_mm(self, name: str, joint: Joint) -> float:
        """Return how far from the screw's middle one of several conductors in it stands. [mm]

        They stand beside one another in the order of where they go, so that all can be seen.
        """
        sharing = [j for j in self.joints if not j.teeth and name in (j.begin, j.end)]
        if len(sharing) < 2 or joint.teeth:  # noqa: PLR2004 - one alone stands in the middle
            return 0.0
        sharing.sort(key=lambda j: (*self._heading_mm(name, _far(j, name)), j.id))
        middle = (len(sharing) - 1) / 2
        return (sharing.index(joint) - middle) * _beside_mm(max(j.csa_mm2 for j in sharing))

    def _heading_mm(self, name: str, other: str) -> tuple[float, float]:
        """Return towards which x a conductor leaves, and what puts the shorter way inside. [mm]

        The x is that of its other end, or of the corner it goes round.
        """
        here, there = self._device(name), self._device(other)
        if here is None or there is None or here.anchor.up == there.anchor.up:
            return self._x_mm(other), 0.0
        ends_mm = (0.0, self.layout.arrangement.enclosure.width_mm)
        a_mm, b_mm = here.anchor.x_mm, there.anchor.x_mm
        corner_mm = min(ends_mm, key=lambda x: abs(x - a_mm) + abs(x - b_mm))
        return corner_mm, b_mm

    def _x_mm(self, name: str) -> float:
        """Return where an end stands along the board, before bars have numbers. [mm]"""
        if name in self.bars:
            return self.bars[name].terminal_x_mm(1)
        device = self._device(name)
        return device.anchor.x_mm if device else self._arrival(name).x_mm

    def _arrival(self, name: str) -> Anchor:
        """Return where something comes in, a core's cable as a whole."""
        return self.glands.get(name.rpartition(".")[0]) or self.incoming[name]

    def _device(self, name: str) -> Spot | None:
        item_id, _, terminal_name = name.rpartition(".")
        for placement in self.layout.placements:
            if placement.item.id == item_id:
                terminal = placement.item.device.terminal(terminal_name)
                return Spot(name, device_anchor(placement, terminal), terminal, placement)
        return None

    def _height_mm(self, name: str) -> float:
        """Return the height at which an end stands, before bars have numbers. [mm]"""
        if name in self.bars:
            return self.bars[name].y_mm
        device = self._device(name)
        return device.anchor.y_mm if device else self._arrival(name).y_mm

    @cached_property
    def outside(self) -> dict[str, Anchor]:
        """Where everything from outside comes in, by the name of its end."""
        return self.incoming | self._cores()

    @cached_property
    def incoming(self) -> dict[str, Anchor]:
        """Where tails and earthing conductors come in, by the name of their end."""
        found: dict[str, Anchor] = {}
        for purpose, names in self._wanted().items():
            free = self._entries(purpose)
            for name, target_mm in _cable_by_cable(names):
                found[name] = _nearest(free, target_mm) or self._above(target_mm)
                free = [anchor for anchor in free if anchor != found[name]]
        return found

    def _wanted(self) -> dict[str, list[tuple[str, float]]]:
        """Return tails and earthing conductors with the x of what they go to, by purpose."""
        wanted: dict[str, list[tuple[str, float]]] = {"tails": [], "earth": []}
        for joint in self.joints:
            for name, other in ((joint.begin, joint.end), (joint.end, joint.begin)):
                place, _, conductor = name.rpartition(".")
                if place not in ("meter", "met", "board"):
                    continue
                device = self._device(other)
                target_mm = device.anchor.x_mm if device else self.bars[other].terminal_x_mm(1)
                wanted["earth" if conductor == "PE" else "tails"].append((name, target_mm))
        return wanted

    def _entries(self, *purposes: str) -> list[Anchor]:
        entries = self.layout.arrangement.enclosure.entries
        return [
            anchor
            for purpose in purposes
            for entry in entries
            if entry.purpose == purpose
            for anchor in entry_anchors(entry, self.layout.arrangement)
        ]

    def _above(self, x_mm: float) -> Anchor:
        """Return a place in the top edge, where the maker names no entry."""
        return Anchor(x_mm, self.layout.arrangement.enclosure.height_mm, up=False)

    def _cores(self) -> dict[str, Anchor]:
        """Return where each core comes out of its sheath, in the order in which they run down."""
        cables: dict[str, list[Joint]] = {}
        for joint in self.joints:
            place = joint.begin.rpartition(".")[0]
            if place in self.glands:
                cables.setdefault(place, []).append(joint)
        found: dict[str, Anchor] = {}
        for place, members in cables.items():
            gland = self.glands[place]
            members.sort(key=lambda j: (self._down_mm(j), j.id))
            for k, joint in enumerate(members):
                shift_mm = (k - (len(members) - 1) / 2) * _CORE_MM
                found[joint.begin] = replace(gland, x_mm=gland.x_mm + shift_mm)
        return found

    @cached_property
    def glands(self) -> dict[str, Anchor]:
        """The middle of each cable's place, by ``cable-<circuit id>``; a ring has two cables."""
        free = self._entries("circuits", "any")
        cables = {joint.begin.rpartition(".")[0] for joint in self.joints}
        found: dict[str, Anchor] = {}
        for placement in self.layout.placements:
            item = placement.item
            ring = f"cable-{item.circuit_id}{SECOND_LEG}" in cables
            if not item.circuit_id or item.role not in (Role.CIRCUIT, Role.AS_FOUND):
                continue
            middle_mm = placement.x_mm + item.device.width_mm / 2
            gland = _nearest(self._beside(free, placement), middle_mm) or self._above(middle_mm)
            free = [anchor for anchor in free if anchor != gland]
            shift_mm = _LEG_MM if ring else 0.0
            found[f"cable-{item.circuit_id}"] = replace(gland, x_mm=gland.x_mm - shift_mm)
            found[f"cable-{item.circuit_id}{SECOND_LEG}"] = replace(
                gland, x_mm=gland.x_mm + shift_mm
            )
        return found

    def _beside(self, free: Sequence[Anchor], placement: Placement) -> list[Anchor]:
        """Return the free places on the edge nearest to a device's rail, where rails are several.

        The cables of each rail then keep out of the other's way as long as there are places.
        """
        if len(self.layout.arrangement.enclosure.rails) == 1 or not free:
            return list(free)
        least_mm = min(abs(anchor.y_mm - placement.y_mm) for anchor in free)
        return [a for a in free if abs(a.y_mm - placement.y_mm) <= least_mm + 1.0]

    def fan_x_mm(self, joint: Joint, end: Spot) -> float | None:
        """Return where a core runs down the board, or None for what is no core of a cable. [mm]

        Straight above its terminal if it can; behind the devices beside it if it must turn.
        """
        if joint.begin.rpartition(".")[0] not in self.glands:
            return None
        return self._behind_mm(joint) or end.anchor.x_mm

    def _behind_mm(self, joint: Joint) -> float | None:
        """Return where a core passes behind a row of devices, or None if it does not. [mm]"""
        place, _, conductor = joint.begin.rpartition(".")
        gland = self.glands[place]
        y_mm = self._height_mm(joint.end)
        rails_mm = {p.y_mm for p in self.layout.placements}
        low_mm, high_mm = sorted((y_mm, gland.y_mm))
        if any(low_mm < rail_mm < high_mm for rail_mm in rails_mm):
            return gland.x_mm + _PASS_MM[conductor]
        return None

    def _down_mm(self, joint: Joint) -> float:
        """Return where a core runs down from its cable. [mm]"""
        if joint.end in self.bars:
            number = self.numbers[joint.end][joint.id]
            straight_mm = self.bars[joint.end].terminal_x_mm(number)
        else:
            straight_mm = self._x_mm(joint.end)
        return self._behind_mm(joint) or straight_mm

    @cached_property
    def numbers(self) -> dict[str, dict[str, int]]:
        """The terminal number of each joint on each bar."""
        return {bar.id: allot(bar, tuple(self._requests(bar))) for bar in self.bars.values()}

    def _requests(self, bar: Bar) -> Iterator[Request]:
        for joint in self.joints:
            other = _other_end(joint, bar.id)
            if other is None:
                continue
            core = other.rpartition(".")[0] in self.glands
            behind_mm = self._behind_mm(joint) if core else None
            yield Request(
                joint.id,
                behind_mm or self._coming_mm(other, bar),
                joint.csa_mm2,
                weight=SPD_WEIGHT if joint.id.startswith("spd-") else 1.0,
                fixed=int(self._takes_first(joint, bar)),
                slants=core and behind_mm is None,
                avoid_mm=self._beside_core_mm(joint) if core and behind_mm is None else (),
                circuit=other.rpartition(".")[0].removesuffix(SECOND_LEG) if core else "",
            )

    def _coming_mm(self, name: str, bar: Bar) -> float:
        """Return from where along the board a conductor comes to a bar. [mm]

        What leaves a device away from the bar comes round an end of the row of devices; the
        longest way round runs outermost, so it takes the terminal farthest out.
        """
        device = self._device(name)
        if device is None or device.placement is None:
            return self._x_mm(name)
        x_mm = device.anchor.x_mm
        if device.anchor.up == (bar.y_mm > device.placement.y_mm):
            return x_mm
        width_mm = self.layout.arrangement.enclosure.width_mm
        middle_mm = bar.x_mm + bar.length_mm / 2
        row = [p for p in self.layout.placements if p.rail == device.placement.rail]
        if x_mm + middle_mm < width_mm:
            return min(p.x_mm for p in row) - x_mm / width_mm
        return max(p.x_mm + p.item.device.width_mm for p in row) + (width_mm - x_mm) / width_mm

    def _beside_core_mm(self, joint: Joint) -> tuple[float, ...]:
        """Return where the other cores of a core's cable run down to their device. [mm]"""
        place = joint.begin.rpartition(".")[0]
        return tuple(
            self._x_mm(other.end)
            for other in self.joints
            if other.begin.rpartition(".")[0] == place and other.end not in self.bars
        )

    def _takes_first(self, joint: Joint, bar: Bar) -> bool:
        """Tell whether a conductor takes terminal 1, the largest: what feeds the bar, if large."""
        if joint.id in ("earthing", "spd-pe-supply"):
            return True
        large = [j for j in self.joints if _other_end(j, bar.id) and j.csa_mm2 > bar.capacity_mm2]
        return bool(large) and joint is large[0]


def _beside_mm(csa_mm2: float) -> float:
    """Return the distance of two conductors in one terminal, as wide as they are drawn. [mm]"""
    return 2.0 if csa_mm2 <= 4 else 3.0 if csa_mm2 <= 10 else 4.2  # noqa: PLR2004


def _cable_by_cable(names: Sequence[tuple[str, float]]) -> list[tuple[str, float]]:
    """Return the ends in the order of where they go, those of one cable side by side."""
    targets_mm: dict[str, list[float]] = {}
    for name, target_mm in names:
        targets_mm.setdefault(name.rpartition(".")[0], []).append(target_mm)
    first_mm = {place: min(targets) for place, targets in targets_mm.items()}
    return sorted(names, key=lambda pair: (first_mm[pair[0].rpartition(".")[0]], pair[1], pair[0]))


def _far(joint: Joint, name: str) -> str:
    return joint.begin if name == joint.end else joint.end


def _other_end(joint: Joint, bar_id: str) -> str | None:
    if bar_id == joint.end:
        return joint.begin
    return joint.end if bar_id == joint.begin else None


def _nearest(free: Sequence[Anchor], x_mm: float) -> Anchor | None:
    """Return the free place nearest to x, the leftmost of equals."""
    return min(free, key=lambda a: (round(abs(a.x_mm - x_mm), 6), a.x_mm), default=None)
