"""A small invented home, and what people do to it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from boardwright.job.job import Job
from boardwright.job.read import parse_job
from boardwright.job.write import job_text
from boardwright.store.conflicts import Conflict
from boardwright.store.events import Event
from boardwright.store.records import Stamp, Version

TEXT = """\
# A home that nobody lives in.
schema_version: 1
id: number-7
title: "7 Mill Lane"
designed_on: 2026-11-25
edition: bs7671_2018_a4

premises: {kind: house, country: England}

supply:
  system: TN-C-S
  ze_ohm: 0.21            # means of earthing apart, board isolated
  ipf_a: 1100
  cutout_fuse_a: 80
  cutout_fuse_standard: BS 1361

earthing:
  means_present: yes
  conductor_mm2: 16

surge_environment:
  setting: suburban
  lv_underground_m: 250

circuits:
  - id: ring
    name: "Sockets"
    serves: sockets
    topology: ring
    cable: {line_mm2: 2.5, cpc_mm2: 1.5, length_m: 55, method: 100}
  - id: shower
    name: "Shower"
    serves: shower
    bathroom: yes
    cable: {line_mm2: 10, cpc_mm2: 4, length_m: 14}   # it vanishes into the loft
    load: {power_w: 9500}
"""
START = datetime(2026, 11, 25, 9, tzinfo=UTC)


def stamp(minute: int = 0, *, who: str = "surveyor", why: str = "survey") -> Stamp:
    """Return a stamp so many minutes after the start."""
    return Stamp(who, why, START + timedelta(minutes=minute))


def put(text: str, old: str, new: str) -> str:
    """Return a text in which one stretch is replaced; it must be there once."""
    assert text.count(old) == 1
    return text.replace(old, new)


def with_ze(text: str, ze_ohm: float) -> str:
    """Return the text as the page would write it with another loop impedance."""
    job = job_of(text)
    return job_text(
        job.model_copy(update={"supply": job.supply.model_copy(update={"ze_ohm": ze_ohm})}), text
    )


def with_ipf(text: str, ipf_a: float) -> str:
    """Return the text as the page would write it with another fault current."""
    job = job_of(text)
    return job_text(
        job.model_copy(update={"supply": job.supply.model_copy(update={"ipf_a": ipf_a})}), text
    )


def with_length(text: str, circuit_id: str, length_m: float) -> str:
    """Return the text as the page would write it with another cable length."""
    job = job_of(text)
    circuits = tuple(
        one.model_copy(update={"cable": one.cable.model_copy(update={"length_m": length_m})})
        if one.id == circuit_id
        else one
        for one in job.circuits
    )
    return job_text(job.model_copy(update={"circuits": circuits}), text)


def without(text: str, circuit_id: str) -> str:
    """Return the text without a circuit."""
    job = job_of(text)
    circuits = tuple(one for one in job.circuits if one.id != circuit_id)
    return job_text(job.model_copy(update={"circuits": circuits}), text)


def job_of(text: str) -> Job:
    """Return the job of a text."""
    return parse_job(text, "test")


def saved(kept: Version | Conflict) -> Version:
    """Return what was saved, and fail if it was not."""
    assert isinstance(kept, Version)
    return kept


def clashed(kept: Version | Conflict) -> Conflict:
    """Return the conflict, and fail if there is none."""
    assert isinstance(kept, Conflict)
    return kept


def reading(number: int, value: object = 0.4, *, device: str = "phone", seen: int = 0) -> Event:
    """Return a reading as a device would send it."""
    return Event(
        id=f"{device}-{number}",
        kind="reading",
        subject="circuits.ring.zs_ohm",
        value=value,
        who="tester",
        at=START + timedelta(minutes=number),
        device=device,
        seen=seen,
    )
