"""Small homes for the tests of this room: one circuit, or a few, on a plain supply."""

from datetime import date
from typing import Any

from boardwright.catalogue.appliances import ApplianceType
from boardwright.catalogue.catalogue import Catalogue
from boardwright.circuits.plan import plan_circuits
from boardwright.circuits.results import CircuitPlan, CircuitResult
from boardwright.circuits.site import Site
from boardwright.job.job import Job
from boardwright.standards.edition import Edition
from boardwright.standards.load import load_edition

EDITION: Edition = load_edition("bs7671_2018_a4")
NOTHING = Catalogue({}, {}, {})

Raw = dict[str, Any]


def raw_circuit(serves: str = "sockets", **changes: Any) -> Raw:  # noqa: ANN401 - a survey's raw values
    """Return a circuit as a survey brings it; ``changes`` replace whole parts."""
    plain: Raw = {
        "id": serves.replace(" ", "-").lower(),
        "name": serves.capitalize(),
        "serves": serves,
        "cable": {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 20, "method": "C"},
    }
    return {**plain, **changes}


def raw_job(circuits: list[Raw], **changes: Any) -> Raw:  # noqa: ANN401 - as above
    """Return a job around some circuits: TN-C-S, Ze 0.35 Ω, 100 A cut-out."""
    supply = {
        "system": "TN-C-S",
        "ze_ohm": 0.35,
        "ipf_a": 1500,
        "cutout_fuse_a": 100,
        "cutout_fuse_standard": "BS 88-3",
    }
    plain: Raw = {
        "id": "home",
        "title": "Home",
        "designed_on": date(2026, 11, 20),
        "premises": {"kind": "house"},
        "supply": supply,
        "earthing": {},
        "surge_environment": {"setting": "suburban"},
        "circuits": circuits,
    }
    merged = {**plain, **changes}
    merged["supply"] = {**supply, **changes.get("supply", {})}
    return merged


def home(circuits: list[Raw], **changes: Any) -> Job:  # noqa: ANN401 - as above
    """Return the same, as a job."""
    return Job.model_validate(raw_job(circuits, **changes))


def planned(job: Job, catalogue: Catalogue = NOTHING) -> CircuitPlan:
    """Work a job's circuits out with the edition in force."""
    return plan_circuits(job, catalogue, EDITION)


def only(circuit: Raw, **changes: Any) -> CircuitResult:  # noqa: ANN401 - as above
    """Work one circuit out, alone on its supply."""
    return planned(home([circuit], **changes)).circuits[0]


def leaking(leakage_a: float) -> Catalogue:
    """Return a catalogue of one appliance, ``kit``, that leaks so much."""
    kit = ApplianceType(id="kit", name="Kit", leakage_a=leakage_a, source="test")
    return Catalogue({}, {}, {"kit": kit})


def site(job: Job, catalogue: Catalogue = NOTHING) -> Site:
    """Return the home around its circuits."""
    return Site(job, planned(job, catalogue).origin, catalogue, EDITION)
