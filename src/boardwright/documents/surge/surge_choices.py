"""The choices of a home's surge as text: the answer, what clears it, then the working."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.design import Design
from boardwright.documents.surge.choices import Choices, choices
from boardwright.documents.words.figures import fixed, quantity, sentence, volts_between
from boardwright.documents.words.plain import Column, heading, paragraph, table
from boardwright.surge.decisions import Cleared, PlaceBand, Tried

TITLE = "What would change the surge"
FILE = "surge-choices.txt"
ON_REQUEST = True

_PLACES = 5
"""Places that stand side by side: the board and those nearest to their withstand."""

_RANKS = 3

_ABOVE = "*"


def build(design: Design) -> str:
    """Return the paper; every way is solved anew, which takes many seconds."""
    return choices_text(choices(design), design.job.title)


def choices_text(found: Choices, title: str) -> str:
    """Return every answer on plain lines."""
    return "\n".join(
        [
            heading(f"{title} · what would change the surge"),
            paragraph(answer(found)) + "\n",
            *_clearing(found),
            *_leads(found),
            *_reach(found),
            *_spread(found),
            *_inputs(found),
            paragraph(_CAUTION),
            "",
        ]
    )


_CAUTION = (
    "Solved for one surge between line and earth, 6 kV / 3 kA, but for the many drawn above. No "
    "figure was compared with a laboratory measurement, and none says that equipment is out of "
    "danger. Isolate, lock off and prove dead before any of it is done."
)


def answer(choices: Choices) -> str:
    """Return what the surge can pass as designed, and the cheapest way out of each."""
    above = choices.cleared
    where = f" on {choices.line}, the line nearest to its withstand," if choices.line else ""
    if not above:
        return (
            f"As designed, every place{where} stays within its rated impulse voltage over the"
            " whole range."
        )
    names = ", ".join(name(each.now) for each in above)
    best = [each for each in above if each.ways]
    said = f"As designed, this surge{where} can pass the withstand at: {names}."
    for each in best:
        said += f" Cheapest for {name(each.now)}: {sentence(each.ways[0].change.words)}"
    for each in above:
        if not each.ways:
            said += f" Nothing of the catalogue clears {name(each.now)}."
    return said


def name(band: PlaceBand) -> str:
    """Return a place as a person calls it."""
    return band.appliance or "the board"


def _clearing(choices: Choices) -> Iterator[str]:
    for each in choices.cleared:
        yield heading(f"What clears {name(each.now)}")
        yield paragraph(
            f"Now {volts_between(each.now.band.p5_v, each.now.band.p95_v)} against "
            f"{quantity(each.now.uw_v, 'V')}. Each way was solved again with its range; parts and "
            "hours are weighed together, the cheapest first."
        )
        shown = each.ways or ((each.nearest,) if each.nearest else ())
        yield "" if each.ways else paragraph("None clears it; this comes nearest:")
        rows = [list(_row(tried, each)) for tried in shown]
        yield table(_CLEARING, rows)


_CLEARING = (
    Column("Change", widest=44),
    Column("Parts", "£", figures=True),
    Column("Work", "h", figures=True),
    Column("Leaves", figures=True, widest=15),
    Column("Mind", widest=28),
)


def _row(tried: Tried, each: Cleared) -> Iterator[str]:
    left = tried.at(each.now.place).band
    yield sentence(tried.change.words)
    yield fixed(tried.change.parts_gbp, 2)
    yield fixed(tried.change.work_h, 2)
    yield volts_between(left.p5_v, left.p95_v)
    yield tried.change.note


def _leads(choices: Choices) -> Iterator[str]:
    shown = shown_places(choices)
    yield heading("Leads and place of the SPD")
    columns = [Column("", widest=28)]
    columns += [
        Column(_short(band), f"{quantity(band.uw_v, 'V')} withstood", widest=16) for band in shown
    ]
    rows = []
    for weighed in choices.weighed:
        by_place = {band.place: band for band in weighed.places}
        cells = [_cell(by_place[band.place]) for band in shown] if by_place else []
        rows.append([weighed.variant.words, *(cells or ["not here"] + [""] * (len(shown) - 1))])
    yield table(columns, rows)
    for weighed in choices.weighed:
        yield paragraph(f"{weighed.variant.words}: {weighed.variant.basis}.", hanging="- ")
    yield paragraph(f"{_ABOVE} the upper end is above what the place withstands.") + "\n"


def shown_places(choices: Choices) -> tuple[PlaceBand, ...]:
    """Return the board and the places nearest to their withstand as designed."""
    board, *others = choices.weighed[0].places
    near = sorted(others, key=lambda band: -band.band.p95_v / band.uw_v)[: _PLACES - 1]
    return (board, *(band for band in others if band in near))


def _short(band: PlaceBand) -> str:
    words = name(band).split()
    return sentence(" ".join(words[:1]) if band.appliance else "the board").rstrip(".,")


def _cell(band: PlaceBand) -> str:
    ends = volts_between(band.band.p5_v, band.band.p95_v)
    return ends if band.passes else f"{ends} {_ABOVE}"


def _reach(choices: Choices) -> Iterator[str]:
    if not choices.reaches:
        return
    yield heading(f"How far the SPD reaches: the rule says {choices.rule_m:g} m")
    for reach in choices.reaches:
        yield paragraph(sentence(reach.says(choices.rule_m)), hanging="- ")
        points = ", ".join(f"{point.length_m:g} m {point.band.p95_v:.0f}" for point in reach.points)
        yield paragraph(f"Upper end by length of its cable, in V: {points}.", 2)
    yield ""


def _spread(choices: Choices) -> Iterator[str]:
    spread = choices.spread
    yield heading("Over many surges")
    yield paragraph(spread.sentence)
    rows = [
        [
            place.appliance or "The board",
            fixed(place.p5_v, 0),
            fixed(place.p50_v, 0),
            fixed(place.p95_v, 0),
            fixed(place.uw_v, 0),
            f"{place.above_fraction:.0%}",
            "; ".join(f"{r.words} {r.correlation_ratio:+.2f}" for r in place.ranks[:_RANKS]),
        ]
        for place in spread.places
    ]
    yield table(_SPREAD, rows)
    yield paragraph(
        "Above: how many of the surges drawn pass what the place withstands. Decided most by: rank "
        "correlation with the peak; +1 where more always means a higher peak, 0 where it tells "
        "nothing."
    )
    yield ""


_SPREAD = (
    Column("Place", widest=18),
    Column("5 %", "V", figures=True),
    Column("50 %", "V", figures=True),
    Column("95 %", "V", figures=True),
    Column("Withstood", "V", figures=True),
    Column("Above", figures=True),
    Column("Decided most by", widest=36),
)


def _inputs(choices: Choices) -> Iterator[str]:
    yield heading("What was drawn")
    rows = [
        [
            item.words,
            *(input_figure(item.name, value) for value in (item.low, item.typical, item.high)),
            f"{item.source} ({item.known})",
        ]
        for item in choices.spread.inputs
    ]
    rows.append(["moment of the mains", "", "", "", "every angle alike: a surge keeps no time"])
    yield table(_DRAWN, rows)


def input_figure(name: str, value: float) -> str:
    """Return a drawn input's figure with the unit that its name ends in."""
    if name.endswith("_h"):
        return f"{value * 1e6:g}\u00a0µH"
    if name.endswith("_v"):
        return quantity(value, "V")
    return f"{value:g}\u00a0m" if name.endswith("_m") else f"{value:g}"


_DRAWN = (
    Column("Input", widest=34),
    Column("5 %", figures=True),
    Column("50 %", figures=True),
    Column("95 %", figures=True),
    Column("Source", widest=36),
)
