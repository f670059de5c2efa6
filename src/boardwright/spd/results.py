"""What the surge-protection stage hands on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from boardwright.catalogue.devices import DeviceType
from boardwright.core.findings import Finding, Rule


class Need(Enum):
    """What the edition asks about surge protection here."""

    REQUIRED = "required"
    FIT = "fit, unless the owner declines and accepts the risk"
    DECLINED = "declined by the owner"


@dataclass(frozen=True, slots=True)
class SurgeNeed:
    """The decision, its ground, and the calculated risk level as an advisory figure.

    ``crl`` is None where lines or flash density are not known; ``least_type`` is the least SPD
    test class at the origin, T1 or T2, and ``type_1_advised`` a step beyond the rule.
    """

    need: Need
    basis: str
    rule: Rule
    crl: float | None
    crl_note: str
    least_type: str
    least_type_reason: str
    type_1_advised: bool
    iimp_min_10x350_a: float | None


class BackupKind(Enum):
    """What protects the SPD's branch against its own failure."""

    CUTOUT = "the cut-out fuse"
    MCB = "its own MCB"
    INTERNAL = "built in"
    NONE = "nothing that its maker accepts"


@dataclass(frozen=True, slots=True)
class Backup:
    """Back-up protection of the SPD; ``device`` is the MCB or fuse on the rail, if any."""

    kind: BackupKind
    rating_a: float | None
    device: DeviceType | None
    reason: str


@dataclass(frozen=True, slots=True)
class Candidate:
    """One SPD with every reason for and against. ``checks`` are findings on this device."""

    device: DeviceType
    backup: Backup
    checks: tuple[Finding, ...]
    suitable: bool
    score: tuple[float, ...]
    """Smaller is better; compared only among the suitable."""


@dataclass(frozen=True, slots=True)
class SpdChoice:
    """The SPD taken, what it was weighed against, and its conductors.

    ``candidate`` is None where nothing suits or the owner declined.
    """

    candidate: Candidate | None
    candidates: tuple[Candidate, ...]
    connection: str
    csa_line_mm2: float
    csa_pe_mm2: float
    reason: str
