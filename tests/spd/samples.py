"""A home, a place and an SPD to change one thing of at a time."""

from dataclasses import replace

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import DeviceType
from boardwright.catalogue.load import load_catalogue
from boardwright.core.findings import Finding, Verdict
from boardwright.job.job import Job
from boardwright.spd.results import Candidate, Need, SurgeNeed
from boardwright.spd.select import SpdSite, choose_spd
from boardwright.standards.load import load_edition

CATALOGUE = load_catalogue()
EDITION = load_edition("bs7671_2018_a4")

SITE = SpdSite(
    system="TN-C-S",
    phases=1,
    u0_v=230,
    cutout_fuse_a=100,
    ipf_a=1500,
    family="ravel-r1",
    ahead_of_rcd=True,
    rcd_delayed=False,
    modules_free=None,
    wanted="",
)

NEED = SurgeNeed(
    need=Need.FIT,
    basis="Fitted.",
    rule=EDITION.rule("spd.default"),
    crl=None,
    crl_note="",
    least_type="T2",
    least_type_reason="No external lightning protection.",
    type_1_advised=False,
    iimp_min_10x350_a=None,
)
TYPE_1_NEEDED = replace(NEED, least_type="T1", iimp_min_10x350_a=12_500)


def home(**environment: object) -> Job:
    """Return a small home with the lines and consequences given."""
    return home_with({}, **environment)


def home_with(supply: dict[str, object], **environment: object) -> Job:
    """Return a small home whose supply is changed too."""
    cable = {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 20}
    return Job.model_validate(
        {
            "id": "home",
            "title": "A home",
            "designed_on": "2026-11-25",
            "premises": {"kind": "house"},
            "supply": {"system": "TN-C-S", "cutout_fuse_a": 100} | supply,
            "earthing": {},
            "surge_environment": {"setting": "rural"} | environment,
            "circuits": [{"id": "ring", "name": "Ring", "serves": "sockets", "cable": cable}],
        }
    )


def spd(device_id: str = "ravel-spd-t2", **fields: object) -> DeviceType:
    """Return an SPD of the catalogue with some of its data changed."""
    device = CATALOGUE.devices[device_id]
    assert device.spd is not None
    return device.model_copy(update={"spd": device.spd.model_copy(update=fields)})


def weigh(device: DeviceType, site: SpdSite = SITE, need: SurgeNeed = NEED) -> Candidate:
    """Return what the choice says of one SPD."""
    catalogue = with_device(device)
    choice = choose_spd(site, need, catalogue, EDITION)
    return next(c for c in choice.candidates if c.device.id == device.id)


def with_device(device: DeviceType) -> Catalogue:
    """Return the catalogue with one device added or replaced."""
    return replace(CATALOGUE, devices={**CATALOGUE.devices, device.id: device})


def failed(candidate: Candidate) -> list[str]:
    """Return the checks that speak against an SPD."""
    return [finding.check for finding in candidate.checks if finding.verdict is Verdict.FAIL]


def finding(candidate: Candidate, check: str) -> Finding:
    """Return the finding of one check; it must be the only one."""
    (found,) = [finding for finding in candidate.checks if finding.check == check]
    return found
