"""The arranged board, asked by terminals: who is fed by whom, which bar serves whom."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.board.results import Arrangement, Item, Placement, Role, Scheme
from boardwright.catalogue.devices import Kind, Terminal
from boardwright.catalogue.enclosures import Bar

LINES = ("L1", "L2", "L3")
_BROUGHT = frozenset({Role.SPD, Role.SPD_BACKUP, Role.CIRCUIT})
_FED_SIDE = ("supply", "line")


@dataclass(frozen=True, slots=True)
class Layout:
    """An arrangement with the questions that the netlist asks of it."""

    arrangement: Arrangement

    @property
    def placements(self) -> tuple[Placement, ...]:
        """The devices from left to right, rail by rail."""
        return tuple(sorted(self.arrangement.placements, key=lambda p: (p.rail, p.module)))

    @property
    def items(self) -> tuple[Item, ...]:
        """The items in the order of their places."""
        return tuple(p.item for p in self.placements)

    def is_new(self, item: Item) -> bool:
        """Tell whether the work brings an item: on a board as found, the SPD and new ways."""
        return self.arrangement.scheme is not Scheme.SPARE_WAYS or item.role in _BROUGHT

    def of_role(self, role: Role) -> Item | None:
        """Return the first item of a role, or None."""
        return next((item for item in self.items if item.role is role), None)

    @property
    def main(self) -> Item | None:
        """The main switch, as designed or as found."""
        found = (i for i in self.items if i.device.kind is Kind.MAIN_SWITCH)
        return self.of_role(Role.MAIN_SWITCH) or next(found, None)

    @property
    def head(self) -> Item | None:
        """What feeds the common busbar: an RCD ahead of all circuits, else the main switch."""
        return self.of_role(Role.INCOMER_RCD) or self.main

    @property
    def separate(self) -> bool:
        """True for a box beside the board as found."""
        return self.arrangement.scheme is Scheme.SEPARATE_BOX

    @property
    def section_rcds(self) -> tuple[Item, ...]:
        """The RCDs that feed a section of the ways, as designed or as found."""
        return tuple(
            i
            for i in self.items
            if i.role is Role.SECTION_RCD
            or (i.role is Role.AS_FOUND and i.device.kind is Kind.RCCB and i.section)
        )

    def feeder(self, item: Item) -> Item | None:
        """Return the item whose load side feeds this one, or None at the origin.

        The SPD's branch is taken ahead of every RCD: a surge must not pass one.
        """
        if item is self.main:
            return None
        if item.role in (Role.INCOMER_RCD, Role.SPD, Role.SPD_BACKUP):
            return self.main
        if item not in self.section_rcds:
            for rcd in self.section_rcds:
                if rcd.section == item.section:
                    return rcd
        return self.head

    def fed_by(self, feeder: Item) -> tuple[Item, ...]:
        """Return what a device feeds, from left to right."""
        return tuple(i for i in self.items if self.feeder(i) is feeder)

    def rail(self, item: Item) -> int:
        """Return the rail that an item stands on."""
        return self.arrangement.placement(item.id).rail

    @property
    def rails_in_use(self) -> tuple[int, ...]:
        """The rails on which anything stands, from the first on."""
        return tuple(sorted({p.rail for p in self.arrangement.placements}))

    def earth_bar_of(self, item: Item) -> Bar | None:
        """Return the earth bar of an item: its rail's, else the board's."""
        return self._on_rail("PE", self.rail(item)) or self.earth_bar

    def further_bars(self, conductor: str) -> tuple[Bar, ...]:
        """Return the bars of the further rails in use, in their order."""
        found = (self._on_rail(conductor, rail) for rail in self.rails_in_use if rail > 0)
        return tuple(bar for bar in found if bar is not None)

    def lug(self, rail: int, line: str) -> Bar | None:
        """Return the lug at which a further rail's busbar is fed, or None."""
        return self._on_rail("L" if line == "L" else line, rail)

    def _on_rail(self, conductor: str, rail: int) -> Bar | None:
        bars = self.arrangement.enclosure.bars
        own = (b for b in bars if b.conductor == conductor and b.rail == rail and not b.section)
        return next(own, None)

    @property
    def earth_bar(self) -> Bar | None:
        """The bar of the protective conductors."""
        return next((b for b in self.arrangement.enclosure.bars if b.conductor == "PE"), None)

    @property
    def neutral_bars(self) -> tuple[Bar, ...]:
        """All neutral bars."""
        return tuple(b for b in self.arrangement.enclosure.bars if b.conductor == "N")

    def neutral_bar(self, item: Item) -> Bar | None:
        """Return the neutral bar of an item: its section's, else the board's."""
        sections = [rcd.section for rcd in self.section_rcds]
        if item.section in sections:
            own = [b for b in self.neutral_bars if b.section]
            named = [b for b in own if b.section == item.section]
            at = sections.index(item.section)
            return next(iter(named or own[at : at + 1]), None)
        return self._on_rail("N", self.rail(item)) or self.common_bar

    @property
    def common_bar(self) -> Bar | None:
        """The neutral bar ahead of the section RCDs."""
        plain = [b for b in self.neutral_bars if not b.section]
        spare = self.neutral_bars if not self.section_rcds else ()
        return next(iter(plain or spare), None)


def line_of(item: Item, terminal: Terminal) -> str:
    """Return which line a terminal belongs to: L, or L1, L2, L3 on a three-phase board."""
    if terminal.conductor in LINES and item.device.phases == 3:  # noqa: PLR2004 - three phases
        return terminal.conductor
    return item.phase or "L"


def terminals(item: Item, *roles: str, live: str = "") -> tuple[Terminal, ...]:
    """Return an item's terminals of some roles; ``live`` keeps N, or L for any line."""
    kept = [t for t in item.device.terminals if t.role in roles]
    if live == "L":
        return tuple(t for t in kept if t.conductor in ("L", *LINES))
    return tuple(t for t in kept if not live or t.conductor == live)


def fed_lines(item: Item) -> dict[str, Terminal]:
    """Return where each line comes into an item; a through terminal is not asked for."""
    kept = [t for t in terminals(item, *_FED_SIDE, live="L") if not t.through]
    return {line_of(item, t): t for t in reversed(kept)}


def load_lines(item: Item) -> dict[str, Terminal]:
    """Return where each line leaves an item; a busbar terminal before a cable's."""
    kept = sorted(terminals(item, "load", live="L"), key=lambda t: t.busbar)
    return {line_of(item, t): t for t in kept}


def name_of(item: Item, terminal: Terminal) -> str:
    """Return the name of a terminal in the design."""
    return f"{item.id}.{terminal.name}"
