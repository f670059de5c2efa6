"""The example homes planned as far as the board, with wishes changed at will."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from boardwright.board.offer import offers
from boardwright.board.plan import plan_board
from boardwright.board.results import BoardPlan, Scheme
from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.circuits.plan import plan_circuits
from boardwright.circuits.results import CircuitPlan
from boardwright.job.board import ExistingBoard
from boardwright.job.job import Job
from boardwright.job.read import read_job
from boardwright.spd.need import surge_need
from boardwright.spd.results import SpdChoice
from boardwright.spd.select import choose_spd
from boardwright.spd.site import SpdSite
from boardwright.standards.edition import Edition
from boardwright.standards.load import load_edition
from tests.board.boards import catalogue

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def edition() -> Edition:
    """Return the edition that the homes are designed to."""
    return load_edition("bs7671_2018_a4")


@cache
def home(name: str) -> Job:
    """Return an example home."""
    return read_job(EXAMPLES / f"{name}.yaml")


def wishing(job: Job, **wishes: object) -> Job:
    """Return the job with other wishes."""
    return job.model_copy(update={"wishes": job.wishes.model_copy(update=wishes)})


def with_board(job: Job, existing: ExistingBoard | None) -> Job:
    """Return the job with another board as found."""
    return job.model_copy(update={"existing_board": existing})


def circuit_plan(job: Job, shelf: Catalogue | None = None) -> CircuitPlan:
    """Return the circuits of a home worked out."""
    return plan_circuits(job, shelf or catalogue(), edition())


def spd_for(job: Job, enclosure: EnclosureType) -> SpdChoice:
    """Return the SPD chosen for a home and an enclosure."""
    site = SpdSite(
        system=job.supply.system,
        phases=job.supply.phases,
        u0_v=job.supply.u0_v,
        cutout_fuse_a=job.supply.cutout_fuse_a,
        ipf_a=job.supply.ipf_a,
        family=enclosure.family,
        ahead_of_rcd=True,
        rcd_delayed=False,
        modules_free=None,
        wanted=job.wishes.spd,
    )
    return choose_spd(site, surge_need(job, edition()), catalogue(), edition())


def planned(job: Job, scheme: Scheme = Scheme.NEW_BOARD, enclosure_id: str = "") -> BoardPlan:
    """Return the board of a home: in the enclosure named, else in the first that holds all."""
    plan, shelf = circuit_plan(job), catalogue()
    named = (shelf.enclosures[enclosure_id],) if enclosure_id else offers(scheme, job, shelf)
    tried = [plan_board(scheme, e, job, plan, spd_for(job, e), shelf) for e in named]
    return min(tried, key=lambda board: len(board.missing))
