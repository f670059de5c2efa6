"""A wired board around one SPD, to change one thing of at a time."""

from typing import Any, cast

from boardwright.board.results import Arrangement, Item, Placement, Role, Scheme
from boardwright.core.findings import Finding
from boardwright.job.job import Job
from boardwright.spd.need import surge_need
from boardwright.spd.results import SpdChoice
from boardwright.spd.select import SpdSite, choose_spd
from boardwright.verification.check import Check
from boardwright.verification.facts import Facts
from boardwright.wiring.results import Conductor, End, Origin, SpdLeads, Wiring
from tests.spd.samples import CATALOGUE, EDITION, SITE

ENCLOSURE = CATALOGUE.enclosures["ravel-r1-16"]


def conductor(ends: tuple[str, str], function: str, csa_mm2: float = 16) -> Conductor:
    """Return a conductor between two terminals; its way through the board does not matter here."""
    begin, end = (End(terminal, terminal, None, None) for terminal in ends)
    name = "-".join(ends)
    return Conductor(
        name, begin, end, function, csa_mm2, "", Origin.NEW, path=(), route_mm=200, length_mm=230
    )


def items(*rows: tuple[str, Role, str], scheme: Scheme = Scheme.NEW_BOARD) -> Arrangement:
    """Return an arrangement of items given as id, role and catalogue id."""
    placements = tuple(
        Placement(Item(item_id, role, CATALOGUE.devices[device], item_id), 0, at, at, 0, 0)
        for at, (item_id, role, device) in enumerate(rows)
    )
    return Arrangement(scheme, ENCLOSURE, placements, 0, (), proven=True, gap=0)


def choice(job: Job, site: SpdSite = SITE) -> SpdChoice:
    """Return the SPD chosen for a job."""
    return choose_spd(site, surge_need(job, EDITION), CATALOGUE, EDITION)


def facts(
    job: Job,
    spd: SpdChoice,
    *,
    leads: SpdLeads | None = None,
    conductors: tuple[Conductor, ...] = (),
    arrangement: Arrangement | None = None,
) -> Facts:
    """Return what the SPD's checks look at; the other stages have no part in them."""
    return Facts(
        job=job,
        edition=EDITION,
        catalogue=CATALOGUE,
        plan=cast("Any", None),
        need=surge_need(job, EDITION),
        spd=spd,
        board=None,
        arrangement=arrangement,
        wiring=Wiring(conductors, leads, (), ()),
        study=cast("Any", None),
    )


def one(check: Check, given: Facts) -> Finding:
    """Return the only finding of a check."""
    (found,) = check(given)
    return found
