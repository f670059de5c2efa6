"""Which device of a maker's range serves a circuit, or why none does."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from boardwright.catalogue.devices import DeviceType, Kind

RCD_RANK = {"AC": 0, "A": 1, "F": 2, "B": 3}
"""Each type sees all that the types before it see. IEC 60755."""


@dataclass(frozen=True, slots=True)
class Ask:
    """What is asked of one device. A field left at its default asks nothing.

    ``poles`` counts switched poles; ``bidirectional`` asks for the maker's word that energy may
    flow both ways.
    """

    kind: Kind
    phases: int = 1
    in_a: float | None = None
    in_min_a: float | None = None
    curve: str = ""
    poles: int = 1
    rcd_type: str = ""
    idn_a: float | None = None
    time_delayed: bool = False
    bidirectional: bool = False

    @property
    def words(self) -> str:
        """The device asked for, as one would order it."""
        rating = self.in_a or self.in_min_a
        parts = [
            self.kind.value,
            f"{self.curve}{rating:g}"
            if self.curve and rating
            else f"{rating:g} A"
            if rating
            else "",
            f"{self.idn_a * 1000:g} mA" if self.idn_a else "",
            f"type {self.rcd_type}" if self.rcd_type else "",
            "time-delayed" if self.time_delayed else "",
            "three-phase" if self.phases > 1 else "",
        ]
        return " ".join(part for part in parts if part)


_Condition = tuple[str, Callable[[DeviceType], bool]]


def device_for(ask: Ask, range_: Iterable[DeviceType]) -> DeviceType | str:
    """Return the device that serves best, or one sentence that says why none does.

    Among those that serve, the lowest rating is taken, then the narrowest, the plainest RCD,
    the fewest poles, the cheapest, the first by id.
    """
    left = list(range_)
    for reason, holds in _conditions(ask):
        kept = [device for device in left if holds(device)]
        if not kept:
            return f"no {ask.words}: {reason}"
        left = kept
    return min(left, key=_preference)


def _conditions(ask: Ask) -> tuple[_Condition, ...]:
    """Return what a device must meet, in the order in which it is told."""
    kind = ask.kind.value
    rating = ask.in_a or ask.in_min_a or 0.0
    return (
        (f"the range has no {kind}", lambda d: d.kind is ask.kind),
        (f"no {kind} for {ask.phases}-phase use", lambda d: d.phases == ask.phases),
        (f"none of {rating:g} A", lambda d: _rated(d, ask)),
        (f"none with curve {ask.curve}", lambda d: ask.curve in {"", d.curve}),
        (f"none with {ask.idn_a or 0:g} A residual", lambda d: ask.idn_a in {None, d.idn_a}),
        ("time delay as asked is not made", lambda d: d.time_delayed is ask.time_delayed),
        (f"none of type {ask.rcd_type} or better", lambda d: _sees(d, ask.rcd_type)),
        (f"none switches {ask.poles} poles", lambda d: d.poles >= ask.poles),
        (
            "none that its maker declares for energy in both directions",
            lambda d: not ask.bidirectional or d.bidirectional is True,
        ),
    )


def _rated(device: DeviceType, ask: Ask) -> bool:
    if ask.in_a is not None:
        return device.in_a == ask.in_a
    return ask.in_min_a is None or (device.in_a or 0.0) >= ask.in_min_a


def _sees(device: DeviceType, rcd_type: str) -> bool:
    return not rcd_type or RCD_RANK.get(device.rcd_type, -1) >= RCD_RANK[rcd_type]


def _preference(device: DeviceType) -> tuple[float, int, int, int, float, str]:
    rank = RCD_RANK.get(device.rcd_type, -1)
    rating_a = device.in_a or 0.0
    return (rating_a, device.modules, rank, device.poles, device.price_gbp, device.id)
