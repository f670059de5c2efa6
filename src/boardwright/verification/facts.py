"""What a check may look at: the job, the edition and every stage's result."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.board.results import Arrangement, BoardPlan
from boardwright.catalogue.catalogue import Catalogue
from boardwright.circuits.results import CircuitPlan
from boardwright.job.job import Job
from boardwright.spd.results import SpdChoice, SurgeNeed
from boardwright.standards.edition import Edition
from boardwright.surge.study import SurgeStudy
from boardwright.wiring.results import Wiring


@dataclass(frozen=True, slots=True)
class Facts:
    """The whole design as the checks see it. A stage that could not run is None."""

    job: Job
    edition: Edition
    catalogue: Catalogue
    plan: CircuitPlan
    need: SurgeNeed
    spd: SpdChoice
    board: BoardPlan | None
    arrangement: Arrangement | None
    wiring: Wiring | None
    study: SurgeStudy
