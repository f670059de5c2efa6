"""The go/no-go gate: may the work start, what must be done first, what stops it.

Three outcomes forbid a start: STOP (there is no lawful way out, or the owner refuses it),
FAIL (do it first) and UNKNOWN (find it out first). Each names the ways out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright.core.findings import Finding, Verdict
from boardwright.gate.bonding import bonding
from boardwright.gate.earthing import earthing
from boardwright.gate.loop import loop
from boardwright.gate.neutrals import neutral
from boardwright.gate.origin import origin
from boardwright.gate.rings import ring
from boardwright.gate.wiring import insulation_together, wiring
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition


def judge(job: Job, edition: Edition) -> tuple[Finding, ...]:
    """Return the gate's findings, in the order in which one would look on site."""
    return (
        *origin(job, edition),
        *_unless_refused(job, edition),
        *loop(job, edition),
        *(finding for circuit in job.circuits for finding in _of_circuit(circuit, job, edition)),
        *insulation_together(job, edition),
    )


def _unless_refused(job: Job, edition: Edition) -> Iterator[Finding]:
    """Turn what must be put right into a STOP where the owner refuses to have it put right."""
    refused = job.earthing.owner_refuses_upgrade == "yes"
    for finding in (*earthing(job, edition), *bonding(job, edition)):
        if refused and finding.verdict is Verdict.FAIL:
            yield replace(
                finding,
                verdict=Verdict.STOP,
                first=False,
                message=f"{finding.message} The owner refuses to have it put right.",
                rule=edition.rule("gate.refusal"),
                remedy="Do not start. Explain the danger in writing; the work can go on once "
                f"this is agreed: {finding.remedy}",
            )
        else:
            yield finding


def _of_circuit(circuit: Circuit, job: Job, edition: Edition) -> Iterator[Finding]:
    # A new circuit has no past to judge; its readings belong to the tests after the work.
    if not circuit.existing:
        return
    yield from wiring(circuit, edition)
    yield from ring(circuit, edition)
    yield neutral(circuit, job, edition)
