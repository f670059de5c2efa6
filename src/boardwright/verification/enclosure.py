"""Checks on the enclosure: openings in steel, degrees of protection, tails, places for cables."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.results import Scheme
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.core.findings import Finding, Sense
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point
from boardwright.wiring.practice import rule
from boardwright.wiring.results import SECOND_LEG

_LIVE = frozenset({"L", "L1", "L2", "L3", "N"})
_IP = {"IP2X": 2, "IP2XC": 2, "IP3X": 3, "IP4X": 4, "IP41": 4, "IP54": 5, "IP55": 5, "IP65": 6}
"""First numeral of each degree of protection that an entry may declare (IEC 60529)."""


@check
def conductors_of_a_circuit_enter_together(facts: Facts) -> Iterator[Finding]:
    """Line and neutral of a circuit pass steel through one opening, or it heats (521.5.1)."""
    if facts.wiring is None or facts.arrangement is None:
        return
    cited = rule("one_opening", facts.edition.title)
    enclosure = facts.arrangement.enclosure
    point = Point("enclosure.one_opening", "Openings", "board", cited)
    if not enclosure.metal:
        yield point.spared("The enclosure is not of steel.")
        return
    openings = _openings(facts, enclosure)
    parted = sorted(name for name, places in openings.items() if len(places) > 1)
    if parted:
        yield point.failed(
            f"Line and neutral pass the steel through openings of their own: {', '.join(parted)}.",
            "Take them through one opening, or cut a slot between the two.",
        )
    else:
        yield point.passed(f"All {len(openings)} sets of conductors pass the steel together.")


def _openings(facts: Facts, enclosure: EnclosureType) -> dict[str, set[str]]:
    """Return the openings that each cable or pair of tails uses."""
    found: dict[str, set[str]] = {}
    for conductor in facts.wiring.conductors if facts.wiring else ():
        for end, at in ((conductor.begin, 0), (conductor.end, -1)):
            place = end.terminal.rpartition(".")[0]
            outside = place.startswith("cable-") or place in {"meter", "board"}
            if outside and conductor.function in _LIVE:
                x_mm, y_mm, _ = conductor.path[at]
                found.setdefault(place, set()).add(_opening(enclosure, place, x_mm, y_mm))
    return found


def _opening(enclosure: EnclosureType, place: str, x_mm: float, y_mm: float) -> str:
    """Return the opening at a point; all cores of one cable's sheath use one."""
    if place.startswith("cable-"):
        return place
    for entry in enclosure.entries:
        along_mm = x_mm if entry.edge in {"top", "bottom", "back"} else y_mm
        steps = (along_mm - entry.at_mm) / entry.pitch_mm
        if entry.purpose == "tails" and 0 <= round(steps) < entry.count:
            return entry.id if entry.one_opening else f"{entry.id} {round(steps) + 1}"
    return f"{place} at {x_mm:.0f} mm"


@check
def enclosure_keeps_fingers_out(facts: Facts) -> Iterator[Finding]:
    """Hold the enclosure to IP4X on top and IP2XC elsewhere, its free ways closed (416.2)."""
    if facts.arrangement is None or facts.arrangement.scheme is Scheme.SPARE_WAYS:
        return
    enclosure = facts.arrangement.enclosure
    for key, asked, declared in (("ip_top", 4, enclosure.ip_top), ("ip", 2, enclosure.ip)):
        where = "on top" if key == "ip_top" else "elsewhere"
        point = Point(
            f"enclosure.{key}", f"Enclosure {where}", "board", rule(key, facts.edition.title)
        )
        numeral = _IP.get(declared)
        if numeral is None:
            yield point.unknown(
                f"Its maker declares {declared!r}.", "Ask for the degree of protection."
            )
        elif numeral < asked:
            yield point.failed(
                f"Its maker declares {declared} {where}.", f"IP{asked}X at least is asked for."
            )
        else:
            yield point.passed(f"Its maker declares {declared} {where}.")
    yield _blanks(facts)


def _blanks(facts: Facts) -> Finding:
    free = facts.arrangement.spare_modules if facts.arrangement else 0
    bought = sum(
        m.count for m in (facts.wiring.materials if facts.wiring else ()) if m.id == "blank"
    )
    point = Point(
        "enclosure.blanks", "Free ways", "board", rule("ip", facts.edition.title),
        value=float(bought), limit=float(free), unit="blanks", sense=Sense.AT_LEAST,
    )  # fmt: skip
    if bought >= free:
        return point.passed(f"{free} free modules, {bought:g} blanks on the list.")
    return point.failed(
        f"{free} free modules, {bought:g} blanks on the list.", "A blank closes each free module."
    )


@check
def tails_are_sheathed(facts: Facts) -> Iterator[Finding]:
    """Meter tails are sheathed up to inside the enclosure and held there (522.8, 416.1)."""
    submain, board = facts.job.supply.submain, facts.board
    if submain is not None or board is None or board.scheme is not Scheme.NEW_BOARD:
        return
    point = Point("enclosure.tails", "Tails", "tails", rule("tails", facts.edition.title))
    remedy = "Sheath carried inside, held by the entry's clamp or one within reach of it."
    match facts.job.supply.tails.sheathed:
        case "yes":
            yield point.passed("The tails are sheathed; the sheath goes in and is clamped.")
        case "no":
            yield point.failed("The tails are not sheathed all the way.", f"Renew them. {remedy}")
        case _:
            yield point.unknown("Whether the tails are sheathed was not seen.", f"Look. {remedy}")


@check
def entries_take_every_cable(facts: Facts) -> Iterator[Finding]:
    """Each cable has a knock-out with a gland of its own; those not used stay shut (526.8)."""
    if facts.wiring is None or facts.arrangement is None:
        return
    if facts.arrangement.scheme is not Scheme.NEW_BOARD:
        return
    cables = {
        c.begin.terminal.rpartition(".")[0]
        for c in facts.wiring.conductors
        if c.begin.terminal.startswith("cable-")
    }
    places = sum(
        entry.count
        for entry in facts.arrangement.enclosure.entries
        if entry.purpose in {"circuits", "any"}
    )
    # The two legs of a ring share one gland made for two cables.
    needed = len({name.removesuffix(SECOND_LEG) for name in cables})
    point = Point(
        "enclosure.entries", "Entries", "board", rule("entries", facts.edition.title),
        value=float(needed), limit=float(places), unit="places",
    )  # fmt: skip
    if needed <= places:
        yield point.passed(
            f"{needed} circuits, {places} places for their cables; {places - needed} stay shut."
        )
    else:
        yield point.failed(
            f"{needed} circuits, {places} places for their cables.",
            f"Drill {needed - places} more where the maker allows it, or take the next enclosure.",
        )
