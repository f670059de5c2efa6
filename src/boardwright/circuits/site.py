"""Where a circuit stands: all that its assessment needs beside itself."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.catalogue.catalogue import Catalogue
from boardwright.circuits.assess import assess, draft_of
from boardwright.circuits.results import CircuitResult, Origin
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.standards.edition import Edition


@dataclass(frozen=True, slots=True)
class Site:
    """The home around a circuit; the circuit itself may be any, also one only thought of."""

    job: Job
    origin: Origin
    catalogue: Catalogue
    edition: Edition

    def assessed(self, circuit: Circuit) -> CircuitResult:
        """Return a circuit worked out here.

        Raises
        ------
        FieldError
            Its cable's size or method is none that the table has.
        """
        draft = draft_of(circuit, self.job, self.catalogue, self.edition)
        return assess(draft, self.job, self.origin, self.edition)
