"""The page of what would change a surge: what clears, leads and places, reach, many surges."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from boardwright.documents.surge.choices import Choices
from boardwright.documents.surge.reach import reach_plot
from boardwright.documents.surge.surge_choices import (
    answer,
    input_figure,
    name,
    shown_places,
)
from boardwright.documents.words.figures import fixed, quantity, sentence, volts_between
from boardwright.surge.decisions import Cleared, PlaceBand, PlaceSpread, Tried, Weighed
from boardwright.web.views.curves import Picture, picture
from boardwright.web.working.work import Work

_KV = 1000.0
_RANKS = 3


@dataclass(frozen=True, slots=True)
class Row:
    """One bar: what it is, its range in words and on the axis, in per cent."""

    words: str
    range: str
    start: str
    length: str
    beyond: bool


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis of kilovolts with the bracket of one place's withstand, in per cent."""

    ticks: tuple[tuple[str, str], ...]
    limit_at: str
    limit: str


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars under one another on the same axis."""

    name: str
    rows: tuple[Row, ...]
    axis: Axis


@dataclass(frozen=True, slots=True)
class Way:
    """One change with its cost, and what it leaves."""

    words: str
    note: str
    cost: str


@dataclass(frozen=True, slots=True)
class Clearing:
    """A place above its withstand with its ways out; ``none`` says where nothing clears it."""

    bars: Bars
    ways: tuple[Way, ...]
    none: str


@dataclass(frozen=True, slots=True)
class SpreadRow:
    """A place over many surges: its bar, how often above, what decides."""

    bars: Bars
    above: str
    ranks: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class ChoicesView:
    """All that the page shows."""

    answer: str
    more: str
    clearing: tuple[Clearing, ...]
    leads: tuple[Bars, ...]
    missing: tuple[tuple[str, str], ...]
    reaches: tuple[Picture, ...]
    rule: str
    spread: tuple[SpreadRow, ...]
    spread_words: str
    inputs: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class AskedView:
    """The page before and while it is worked out, and after: then with ``found``."""

    work: Work | None
    found: ChoicesView | None


def choices_view(choices: Choices) -> ChoicesView:
    """Return what the page shows."""
    first, _, rest = answer(choices).partition(". ")
    return ChoicesView(
        answer=sentence(first),
        more=rest,
        clearing=tuple(_clearing(each) for each in choices.cleared),
        leads=tuple(_leads(place, choices.weighed) for place in _worst_first(choices)),
        missing=tuple(
            (each.variant.words, sentence(each.variant.basis))
            for each in choices.weighed
            if not each.places
        ),
        reaches=tuple(picture(reach_plot(each, choices.rule_m)) for each in choices.reaches),
        rule=f"{choices.rule_m:g}\u00a0m",
        spread=tuple(_spread(each) for each in choices.spread.places),
        spread_words=choices.spread.sentence,
        inputs=tuple(
            (
                sentence(each.words).rstrip("."),
                " · ".join(
                    input_figure(each.name, value) for value in (each.low, each.typical, each.high)
                ),
                f"{each.source} ({each.known})",
            )
            for each in choices.spread.inputs
        ),
    )


def _clearing(each: Cleared) -> Clearing:
    shown = each.ways or ((each.nearest,) if each.nearest else ())
    rows = [("As designed", each.now), *((_cut(t), t.at(each.now.place)) for t in shown)]
    none = "" if each.ways else "Nothing of the catalogue clears it; this comes nearest."
    title = sentence(name(each.now)).rstrip(".")
    return Clearing(_bars(title, rows, each.now.uw_v), tuple(map(_way, shown)), none)


def _cut(tried: Tried) -> str:
    return sentence(tried.change.words).rstrip(".")


def _way(tried: Tried) -> Way:
    change = tried.change
    spared = change.parts_gbp < 0
    parts = f"£{fixed(abs(change.parts_gbp), 2)} {'less for parts' if spared else 'of parts'}"
    return Way(_cut(tried), change.note, f"{parts}, {fixed(change.work_h, 2)}\u00a0h")


def _worst_first(choices: Choices) -> list[PlaceBand]:
    return sorted(shown_places(choices), key=lambda place: -place.band.p95_v / place.uw_v)


def _leads(place: PlaceBand, weighed: Iterable[Weighed]) -> Bars:
    rows = []
    for each in weighed:
        found = [band for band in each.places if band.place == place.place]
        rows += [(each.variant.words, band) for band in found]
    return _bars(sentence(name(place)).rstrip("."), rows, place.uw_v)


def _bars(title: str, rows: list[tuple[str, PlaceBand]], uw_v: float) -> Bars:
    ends = [(words, band.band.p5_v, band.band.p95_v) for words, band in rows]
    full_kv = int(max([high for _, _, high in ends] + [uw_v]) / _KV) + 1
    return Bars(
        title,
        tuple(
            Row(
                words,
                volts_between(low, high),
                _percent(low, full_kv),
                _percent(high - low, full_kv),
                high > uw_v,
            )
            for words, low, high in ends
        ),
        _axis(full_kv, uw_v),
    )


def _axis(full_kv: int, uw_v: float) -> Axis:
    step = 1 if full_kv <= 6 else 2  # noqa: PLR2004 - closer labels would touch on a phone
    values = range(0, full_kv + 1, step)
    ticks = tuple(
        (_percent(kv * _KV, full_kv), f"{kv}\u00a0kV" if kv == values[-1] else f"{kv}")
        for kv in values
    )
    return Axis(ticks, _percent(uw_v, full_kv), f"withstand {quantity(uw_v, 'V')}")


def _spread(place: PlaceSpread) -> SpreadRow:
    title = place.appliance or "The board"
    full_kv = int(max(place.p95_v, place.uw_v) / _KV) + 1
    row = Row(
        "5 % to 95 %",
        volts_between(place.p5_v, place.p95_v),
        _percent(place.p5_v, full_kv),
        _percent(place.p95_v - place.p5_v, full_kv),
        place.p95_v > place.uw_v,
    )
    ranks = tuple(
        (sentence(rank.words).rstrip("."), f"{rank.correlation_ratio:+.2f}".replace("-", "−"))
        for rank in place.ranks[:_RANKS]
    )
    above = f"{place.above_fraction:.0%} of the surges drawn pass the withstand"
    half = f"half of them lie below {quantity(place.p50_v, 'V')}"
    return SpreadRow(Bars(title, (row,), _axis(full_kv, place.uw_v)), f"{above}; {half}.", ranks)


def _percent(value_v: float, full_kv: int) -> str:
    return f"{value_v / full_kv / 10:.2f}%"
