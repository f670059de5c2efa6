"""Whether the devices stand where the person placed them."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.results import Arrangement, Placement, Role
from boardwright.board.wished import SPD_WAY, named_units
from boardwright.core.findings import Finding, Known, Rule
from boardwright.core.point import Point
from boardwright.verification.check import check
from boardwright.verification.facts import Facts

_RULE = Rule("the job's own wish", "common practice, no source", Known.FOUND)


@check
def placed_as_wished(facts: Facts) -> Iterator[Finding]:
    """Each device stands on the way that the person gave it."""
    if facts.arrangement is None:
        return
    placed = _placed(facts.arrangement)
    for key, way in sorted(facts.job.wishes.ways.items()):
        found = placed.get(key)
        if found is None:
            continue
        subject = "SPD" if found.item.role in (Role.SPD, Role.SPD_BACKUP) else found.item.label
        point = Point("board.way_wished", subject, key if key != SPD_WAY else "spd", _RULE)
        if found.way == way:
            yield point.passed(f"It stands on way {way}, where you placed it.")
        else:
            yield point.advised(
                f"You placed it on way {way}; no legal order has it there, or not with the others "
                f"that you placed: it stands on way {found.way}.",
                "Place it elsewhere, or take your way for it back.",
            )


def _placed(arrangement: Arrangement) -> dict[str, Placement]:
    items = [placement.item for placement in arrangement.placements]
    return {key: arrangement.placements[k] for key, k in named_units(items).items()}
