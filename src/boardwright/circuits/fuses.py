"""Fuses as found: one stays on the board that it stands on, and on no other."""

from __future__ import annotations

from boardwright.circuits.capacity import cable_capacity
from boardwright.circuits.protection import FUSES
from boardwright.job.circuit import Circuit, Wanted
from boardwright.job.job import Job
from boardwright.standards.edition import Edition


def without_fuse(circuit: Circuit, job: Job, edition: Edition) -> Circuit:
    """Return a circuit as its board will protect it: on a new one its fuse gives way to a breaker.

    The next breaker above the fuse follows where the cable bears it, as 32 A for 30 A; else the
    rating is worked out as if none had been there. Common practice, no source.
    """
    found = circuit.wanted
    if found.standard not in FUSES or job.wishes.board == "keep":
        return circuit
    bare = _with(circuit, found.model_copy(update={"standard": None}))
    ratings = sorted(float(row) for row in edition.table("breaker_ratings_a").rows)
    next_a = next((rating for rating in ratings if rating >= (found.in_a or 0.0)), None)
    borne = next_a is not None and next_a <= cable_capacity(bare, edition).iz_a
    kept_a = next_a if found.in_a and (borne or circuit.topology == "ring") else None
    return _with(bare, bare.wanted.model_copy(update={"in_a": kept_a}))


def _with(circuit: Circuit, wanted: Wanted) -> Circuit:
    return circuit.model_copy(update={"wanted": wanted})
