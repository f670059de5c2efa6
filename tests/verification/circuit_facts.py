"""Facts around a few circuits, with or without a board, for the checks on circuits and supply."""

from typing import Any, cast

from boardwright.board.results import BoardPlan, Item, Role, Scheme
from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import DeviceType, Kind, Terminal
from boardwright.catalogue.enclosures import EnclosureType, Rail
from boardwright.core.findings import Finding, Verdict
from boardwright.job.job import Job
from boardwright.verification.check import Check
from boardwright.verification.facts import Facts
from tests.circuits.build import EDITION, NOTHING, planned

_SCREW = Terminal(
    name="L", conductor="L", side="top", offset_mm=9, role="load", capacity_mm2=16, torque_nm=2
)


def device(kind: Kind, **changes: Any) -> DeviceType:  # noqa: ANN401 - a catalogue's raw values
    """Return an invented device of a kind."""
    plain = {
        "id": kind.value.lower().replace(" ", "-"),
        "maker": "Invented",
        "family": "invented",
        "kind": kind,
        "name": kind.value,
        "modules": 1,
        "poles": 2,
        "terminals": (_SCREW,),
    }
    return DeviceType.model_validate({**plain, **changes})


def rcbo(**changes: Any) -> DeviceType:  # noqa: ANN401 - as above
    """Return a type A RCBO of 30 mA."""
    plain = {"in_a": 20, "idn_a": 0.03, "rcd_type": "A", "icn_a": 6000, "bidirectional": False}
    return device(Kind.RCBO, **{**plain, **changes})


def way(circuit_id: str, fitted: DeviceType) -> Item:
    """Return the way of a circuit."""
    return Item(f"way-{circuit_id}", Role.CIRCUIT, fitted, circuit_id, circuit_id=circuit_id)


def board(*items: Item, scheme: Scheme = Scheme.NEW_BOARD, **changes: Any) -> BoardPlan:  # noqa: ANN401 - as above
    """Return a board of these items."""
    plain = {
        "id": "box",
        "maker": "Invented",
        "family": "invented",
        "name": "Box",
        "purpose": "consumer unit",
        "width_mm": 400,
        "height_mm": 240,
        "depth_mm": 110,
        "hand": "left",
        "rails": (Rail(x_mm=20, y_mm=120, modules=18),),
        "ina_a": 100,
        "conditional_isc_a": 16_000,
    }
    enclosure = EnclosureType.model_validate({**plain, **changes})
    return BoardPlan(scheme, enclosure, items, ())


def facts(job: Job, fitted: BoardPlan | None = None, catalogue: Catalogue = NOTHING) -> Facts:
    """Return what the checks look at; the stages that play no part are left out."""
    absent = cast("Any", None)
    return Facts(
        job=job,
        edition=EDITION,
        catalogue=catalogue,
        plan=planned(job, catalogue),
        need=absent,
        spd=absent,
        board=fitted,
        arrangement=None,
        wiring=None,
        study=absent,
    )


def found(check: Check, given: Facts, check_id: str = "") -> Finding:
    """Return the one finding of a check, by id where it has several."""
    findings = [f for f in check(given) if not check_id or f.check == check_id]
    assert len(findings) == 1, findings
    return findings[0]


def verdict(check: Check, given: Facts) -> Verdict:
    """Return the verdict of a check that yields one finding."""
    return found(check, given).verdict
