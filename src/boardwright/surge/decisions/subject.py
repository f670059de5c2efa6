"""The wired home that a question is asked about."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.board.results import Arrangement
from boardwright.catalogue.catalogue import Catalogue
from boardwright.job.job import Job
from boardwright.spd.results import SpdChoice
from boardwright.standards.edition import Edition
from boardwright.surge.assumptions import Assumptions
from boardwright.surge.home import HomeSurge
from boardwright.wiring.results import SpdLeads, Wiring


@dataclass(frozen=True, slots=True)
class Subject:
    """A home as a surge meets it, with what it was made from.

    ``boxed`` are the leads of an SPD in a box beside the board, where that scheme was wired.
    """

    home: HomeSurge
    assumed: Assumptions
    job: Job
    catalogue: Catalogue
    edition: Edition
    spd: SpdChoice
    arrangement: Arrangement
    wiring: Wiring
    boxed: SpdLeads | None = None

    @property
    def fuse_ahead_a(self) -> float | None:
        """Return the rating of the fuse that feeds the board. [A]"""
        supply = self.job.supply
        return supply.submain.fuse_a if supply.submain else supply.cutout_fuse_a
