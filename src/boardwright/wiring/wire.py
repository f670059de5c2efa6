"""From the arranged rail to every wire, the order of work and the materials."""

from __future__ import annotations

from boardwright.board.results import Arrangement
from boardwright.job.job import Job
from boardwright.spd.results import SpdChoice
from boardwright.standards.edition import Edition
from boardwright.wiring.layout import Layout
from boardwright.wiring.materials import materials
from boardwright.wiring.netlist import netlist
from boardwright.wiring.order import order
from boardwright.wiring.results import Wiring
from boardwright.wiring.schedule import numbered, schedule, spd_leads


def wire(arrangement: Arrangement, job: Job, spd: SpdChoice, edition: Edition) -> Wiring:
    """Wire an arranged board: the same arrangement always gives the same wires."""
    layout = Layout(arrangement)
    joints = netlist(layout, job, spd, edition)
    conductors = schedule(layout, joints, job)
    steps = order(layout, job, conductors)
    made = {name: step.number for step in steps for name in step.conductors}
    return Wiring(
        conductors=numbered(conductors, made),
        spd_leads=spd_leads(layout, joints, conductors, job),
        steps=steps,
        materials=materials(layout, conductors),
    )
