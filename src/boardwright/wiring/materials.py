"""What must be on the van: devices, enclosure, conductors by size and colour, small parts."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from boardwright.board.results import Scheme
from boardwright.wiring.layout import Layout
from boardwright.wiring.practice import figure
from boardwright.wiring.results import Conductor, Material, Origin

_REEL_M = 0.5


def materials(layout: Layout, conductors: Sequence[Conductor]) -> tuple[Material, ...]:
    """Return the list of materials, devices first."""
    return (
        *_enclosure(layout),
        *_devices(layout),
        *_reels(conductors),
        *_small(layout, conductors),
    )


def _enclosure(layout: Layout) -> Iterator[Material]:
    box = layout.arrangement.enclosure
    empty = layout.separate and not layout.items
    if layout.arrangement.scheme is not Scheme.SPARE_WAYS and not empty:
        yield Material(box.id, box.name, 1, "piece", box.price_gbp, box.maker)


def _devices(layout: Layout) -> Iterator[Material]:
    """Yield the devices by type; what stands on the board as found is not bought."""
    new = [item for item in layout.items if layout.is_new(item)]
    counts = Counter(item.device.id for item in new)
    for device in {item.device.id: item.device for item in new}.values():
        # The main switch comes with its enclosure.
        supplied = device.id == layout.arrangement.enclosure.main_switch
        price_gbp = 0.0 if supplied else round(device.price_gbp * counts[device.id], 2)
        name = f"{device.name} (with the enclosure)" if supplied else device.name
        yield Material(device.id, name, counts[device.id], "piece", price_gbp, device.maker)


def _cut(conductor: Conductor) -> bool:
    """Tell whether a conductor is cut from a reel: new, and no core of a cable."""
    return conductor.origin is Origin.NEW and not conductor.begin.terminal.startswith("cable-")


def _reels(conductors: Sequence[Conductor]) -> Iterator[Material]:
    """Yield new conductors by size and colour, waste included, in half metres."""
    lengths_mm: dict[tuple[float, str], float] = {}
    for conductor in filter(_cut, conductors):
        kind = (conductor.csa_mm2, conductor.colour)
        lengths_mm[kind] = lengths_mm.get(kind, 0.0) + conductor.length_mm
    for (csa_mm2, colour), length_mm in sorted(lengths_mm.items()):
        wanted_m = length_mm / 1000 * figure("cut", "waste_factor")
        reel_m = math.ceil(wanted_m / _REEL_M) * _REEL_M
        metre_gbp = figure("price_gbp", "per_metre_base") + csa_mm2 * figure(
            "price_gbp", "per_metre_mm2"
        )
        name = f"Conductor {csa_mm2:g} mm², {colour}"
        yield Material(
            f"conductor-{csa_mm2:g}-{colour}", name, reel_m, "m", round(metre_gbp * reel_m, 2)
        )


def _small(layout: Layout, conductors: Sequence[Conductor]) -> Iterator[Material]:
    cables = {
        c.begin.terminal.rpartition(".")[0]
        for c in conductors
        if c.begin.terminal.startswith("cable-")
    }
    as_found = layout.arrangement.scheme is Scheme.SPARE_WAYS
    counts = {
        "gland": ("Cable glands and grommets", 0 if as_found else len(cables) + 3),
        "blank": ("Blanks, one module", layout.arrangement.spare_modules),
        "ferrule": ("Ferrules, where the maker asks for them", 2 * sum(map(_cut, conductors))),
        "label": ("Labels, one a device", len(layout.items)),
    }
    for name, (what, count) in counts.items():
        if count:
            yield Material(name, what, count, "piece", round(count * figure("price_gbp", name), 2))
