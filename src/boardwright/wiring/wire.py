"""From the arranged rail to every wire, the order of work and the materials."""

from __future__ import annotations

from boardwright.board.results import Arrangement
from boardwright.job.job import Job
from boardwright.spd.results import SpdChoice
from boardwright.standards.edition import Edition
from boardwright.wiring.layout import Layout
from boardwright.wiring.materials import materials
from boardwright.wiring.netlist import netlist, sizes
from boardwright.wiring.order import order
from boardwright.wiring.results import Wiring
from boardwright.wiring.schedule import numbered, schedule, spd_leads
from boardwright.wiring.through import clears, why_not_through


def wire(arrangement: Arrangement, job: Job, spd: SpdChoice, edition: Edition) -> Wiring:
    """Wire an arranged board: the same arrangement always gives the same wires."""
    layout = Layout(arrangement)
    plain = _wired(layout, job, spd, edition, through=False)
    limits_m = (edition.number("spd.leads_good_m"), edition.number("spd.leads_max_m"))
    leads = plain.spd_leads
    if leads is None or leads.total_m <= limits_m[0]:
        return plain
    if why_not_through(layout, job, sizes(layout, job, edition).tails_mm2):
        return plain
    through = _wired(layout, job, spd, edition, through=True)
    # It puts the whole supply through the SPD's terminals: only where that clears a lead rule.
    helps = through.spd_leads is not None and clears(leads, through.spd_leads, limits_m)
    return through if helps else plain


def _wired(layout: Layout, job: Job, spd: SpdChoice, edition: Edition, *, through: bool) -> Wiring:
    joints = netlist(layout, job, spd, edition, through=through)
    conductors = schedule(layout, joints, job)
    steps = order(layout, job, conductors)
    made = {name: step.number for step in steps for name in step.conductors}
    return Wiring(
        conductors=numbered(conductors, made),
        spd_leads=spd_leads(layout, joints, conductors, job),
        steps=steps,
        materials=materials(layout, conductors),
    )
