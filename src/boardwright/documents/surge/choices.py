"""What would change the surge left in a home: worked out when asked, never by a plan alone."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass

from boardwright.board.results import Scheme
from boardwright.design import Design, Told
from boardwright.documents.surge.home import line_of
from boardwright.surge.assumptions import load_assumptions
from boardwright.surge.decisions import (
    Cleared,
    Reach,
    Spread,
    Subject,
    Tried,
    Weighed,
    check_draws,
    cleared,
    reaches,
    spread,
    weighed,
)

DRAWS = 300
SEED = 1


@dataclass(frozen=True, slots=True)
class Choices:
    """Every answer to what would change the surge: each part solved cable by cable.

    ``line`` names the line among three whose equipment is weighed, the nearest to its withstand.
    """

    weighed: tuple[Weighed, ...]
    reaches: tuple[Reach, ...]
    cleared: tuple[Cleared, ...]
    spread: Spread
    rule_m: float
    line: str


def subject_of(design: Design) -> Subject:
    """Return a design's home as the surge's questions take it; of three lines, the worst."""
    chosen = design.chosen
    _, home = line_of(design)
    boxed = next((v for v in design.variants if v.scheme is Scheme.SEPARATE_BOX), None)
    return Subject(
        home=home,
        assumed=load_assumptions(),
        job=design.job,
        catalogue=design.catalogue,
        edition=design.edition,
        spd=chosen.spd,
        arrangement=chosen.arrangement,
        wiring=chosen.wiring,
        boxed=boxed.wiring.spd_leads if boxed else None,
    )


def choices(
    design: Design,
    *,
    draws: int = DRAWS,
    seed: int = SEED,
    told: Told = lambda _words, _fraction: None,
) -> Choices:
    """Work out every choice; some seconds, and longer the first time: the kernel is compiled.

    ``told`` hears how far it is; the same design, draws and seed give the same answer.
    """
    check_draws(draws)
    subject = subject_of(design)
    home, assumed = subject.home, subject.assumed
    line = line_of(design)[0] if design.job.supply.phases > 1 else ""
    told("leads and places of the SPD", 0.0)
    table = weighed(subject, assumed)
    told("length of cable to the equipment", 0.15)
    far = reaches(home, assumed)
    told("changes that clear a finding", 0.5)
    ways = cleared(subject, table[0].places)
    told("many surges drawn", 0.7)
    many = spread(home, assumed, draws=draws, seed=seed)
    return Choices(table, far, ways, many, design.edition.number("spd.distance_m"), line)


def choices_json(choices: Choices) -> str:
    """Return every figure behind the answers as JSON."""
    data = {
        "leads_and_places": [_weighed(each) for each in choices.weighed],
        "reach": [asdict(each) for each in choices.reaches],
        "clearing": [_cleared(each) for each in choices.cleared],
        "spread": asdict(choices.spread),
        "rule_m": choices.rule_m,
        "line": choices.line,
    }
    return json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _weighed(each: Weighed) -> dict[str, object]:
    variant = each.variant
    return {
        "key": variant.key,
        "words": variant.words,
        "basis": variant.basis,
        "possible": variant.home is not None,
        "places": [asdict(band) for band in each.places],
    }


def _cleared(each: Cleared) -> dict[str, object]:
    return {
        "now": asdict(each.now),
        "ways": [_tried(tried) for tried in each.ways],
        "nearest": _tried(each.nearest) if each.nearest else None,
    }


def _tried(tried: Tried) -> dict[str, object]:
    change = tried.change
    return {
        "key": change.key,
        "words": change.words,
        "note": change.note,
        "parts_gbp": round(change.parts_gbp, 2),
        "work_h": change.work_h,
        "places": [asdict(band) for band in tried.places],
        "spds": [asdict(load) for load in tried.loads],
    }
