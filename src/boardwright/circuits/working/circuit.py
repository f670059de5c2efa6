"""The working of one circuit, from its load to its leakage."""

from __future__ import annotations

from boardwright.circuits.fuses import without_fuse
from boardwright.circuits.results import CircuitPlan
from boardwright.circuits.working.load import cable_steps, drop_steps, load_steps
from boardwright.circuits.working.loop import fault_steps, leakage_steps, loop_steps
from boardwright.circuits.working.step import Step
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition


def working(circuit: Circuit, plan: CircuitPlan, job: Job, edition: Edition) -> tuple[Step, ...]:
    """Return every figure of a circuit with how it came about, in the order of the calculation."""
    result = plan.circuit(circuit.id)
    circuit = without_fuse(circuit, job, edition)
    return (
        *load_steps(circuit, result, job, edition),
        *cable_steps(circuit, result, edition),
        *drop_steps(circuit, result, job, plan.origin, edition),
        *loop_steps(circuit, result, plan, edition),
        *fault_steps(circuit, result, job, edition),
        *leakage_steps(result, edition),
    )
