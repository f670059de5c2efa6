"""Choices that the job's schema does not have: the home's own circuits, what a catalogue offers."""

from __future__ import annotations

from functools import cache

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.load import load_catalogue
from boardwright.job.job import Job
from boardwright.standards.load import editions, load_edition
from boardwright.web.views.fields import Choice, Lists


@cache
def on_offer() -> Catalogue:
    """Return the shipped catalogue, read once."""
    return load_catalogue()


def lists_of(job: Job) -> Lists:
    """Return every list that a question of the survey chooses from."""
    circuits = tuple(Choice(circuit.id, circuit.name) for circuit in job.circuits)
    return {**_shelf(), "circuits": circuits}


@cache
def _shelf() -> Lists:
    catalogue = on_offer()
    units = [catalogue.enclosures[name] for name in catalogue.units]
    spds = [catalogue.devices[name] for name in catalogue.spds]
    makers = sorted({unit.maker for unit in units})
    families = sorted({unit.family for unit in units})
    kinds = catalogue.appliances.values()
    return {
        "editions": tuple(Choice(name, load_edition(name).title) for name in editions()),
        "makers": tuple(Choice(name, name) for name in makers),
        "families": tuple(Choice(name, name) for name in families),
        "enclosures": tuple(Choice(unit.id, f"{unit.maker} {unit.name}") for unit in units),
        "spds": tuple(Choice(spd.id, f"{spd.maker} {spd.name}") for spd in spds),
        "appliances": tuple(Choice(kind.id, kind.name) for kind in kinds),
    }


__all__ = ["lists_of", "on_offer"]
