"""What would change the surge left in a home: worked out when asked, never by a plan alone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from boardwright.board.results import Scheme
from boardwright.design import Design
from boardwright.surge.assumptions import load_assumptions
from boardwright.surge.decisions import (
    Cleared,
    Reach,
    Spread,
    Subject,
    Weighed,
    cleared,
    reaches,
    spread,
    weighed,
)
from boardwright.surge.from_board import home_surge

DRAWS = 300
SEED = 1


@dataclass(frozen=True, slots=True)
class Choices:
    """Every answer to what would change the surge: each part solved cable by cable."""

    weighed: tuple[Weighed, ...]
    reaches: tuple[Reach, ...]
    cleared: tuple[Cleared, ...]
    spread: Spread
    rule_m: float


def subject_of(design: Design) -> Subject:
    """Return a design's home as the surge's questions take it."""
    chosen = design.chosen
    boxed = next((v for v in design.variants if v.scheme is Scheme.SEPARATE_BOX), None)
    return Subject(
        home=home_surge(design.job, design.catalogue, design.edition, chosen.spd, chosen.wiring),
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
    progress: Callable[[str], None] = lambda _words: None,
) -> Choices:
    """Work out every choice; some seconds, and longer the first time: the kernel is compiled."""
    subject = subject_of(design)
    home, assumed = subject.home, subject.assumed
    progress("leads and places of the SPD")
    table = weighed(subject, assumed)
    progress("length of cable to the equipment")
    far = reaches(home, assumed)
    progress("changes that clear a finding")
    ways = cleared(subject, table[0].places)
    progress("many surges drawn")
    many = spread(home, assumed, draws=draws, seed=seed)
    return Choices(table, far, ways, many, design.edition.number("spd.distance_m"))
