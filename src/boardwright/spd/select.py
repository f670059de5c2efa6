"""The choice of an SPD: every one in the catalogue is weighed, and the reasons are kept.

Among the suitable, the order is: what is least in doubt; a Type 1 where it is advised; the
board maker's own, for it was tested there; a back-up of its own, for a failed SPD must not
take the home off supply; the lower let-through, in steps of 100 V, below which leads decide
more than the device; the narrower; the cheaper; the id.
"""

from __future__ import annotations

from dataclasses import replace

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import DeviceType, Kind, SpdData
from boardwright.core.errors import FieldError
from boardwright.core.findings import Finding, Verdict
from boardwright.spd.backup import choose_backup
from boardwright.spd.conductors import least_line_mm2, least_pe_mm2
from boardwright.spd.results import BackupKind, Candidate, Need, SpdChoice, SurgeNeed
from boardwright.spd.site import SpdSite
from boardwright.spd.suitability import Question, reasons
from boardwright.standards.edition import Edition

__all__ = ["SpdSite", "choose_spd", "take"]

_STRESS_STEP_V = 100.0


def choose_spd(site: SpdSite, need: SurgeNeed, catalogue: Catalogue, edition: Edition) -> SpdChoice:
    """Return the SPD for a place, with all that it was weighed against, best first.

    Raises
    ------
    FieldError
        The job wants an SPD that the catalogue does not have.
    """
    if site.wanted and site.wanted not in {spd.id for spd in catalogue.of_kind(Kind.SPD)}:
        raise FieldError("wishes.spd", site.wanted, "the id of an SPD in the catalogue, or nothing")
    weighed = [
        _weigh(device, device.spd, site=site, need=need, catalogue=catalogue, edition=edition)
        for device in catalogue.of_kind(Kind.SPD)
        if device.spd is not None
    ]
    candidates = tuple(sorted(weighed, key=lambda c: _order(c, site.wanted)))
    choice = SpdChoice(None, candidates, "", 0.0, 0.0, "")
    if need.need is Need.DECLINED:
        return replace(choice, reason=need.basis)
    if not candidates or not candidates[0].suitable:
        return replace(choice, reason=_nothing(candidates))
    return take(choice, candidates[0], edition, wanted=site.wanted)


def take(
    choice: SpdChoice, candidate: Candidate, edition: Edition, *, wanted: str = ""
) -> SpdChoice:
    """Return the choice with another of its candidates taken, connections and reason with it."""
    spd = candidate.device.spd
    if spd is None:
        raise FieldError("spd", candidate.device.id, "an SPD")
    return replace(
        choice,
        candidate=candidate,
        connection=spd.connection,
        csa_line_mm2=least_line_mm2(spd, candidate.backup, edition),
        csa_pe_mm2=least_pe_mm2(spd, edition),
        reason=_reason(choice, candidate, wanted),
    )


def _weigh(
    device: DeviceType,
    spd: SpdData,
    *,
    site: SpdSite,
    need: SurgeNeed,
    catalogue: Catalogue,
    edition: Edition,
) -> Candidate:
    backup = choose_backup(spd, site.family, site.cutout_fuse_a, catalogue)
    question = Question(device, spd, backup, site, need, edition)
    checks = tuple(reasons(question))
    return Candidate(
        device=device,
        backup=backup,
        checks=checks,
        suitable=not _against(checks),
        score=_score(question, checks),
    )


def _score(question: Question, checks: tuple[Finding, ...]) -> tuple[float, ...]:
    device = question.device
    return (
        sum(finding.verdict is Verdict.UNKNOWN for finding in checks),
        question.need.type_1_advised and "T1" not in question.spd.types,
        device.family != question.site.family,
        question.backup.kind is BackupKind.CUTOUT,
        question.stress_v // _STRESS_STEP_V,
        question.modules,
        device.price_gbp,
    )


def _order(candidate: Candidate, wanted: str) -> tuple[object, ...]:
    against = len(_against(candidate.checks))
    device = candidate.device
    return (against, device.id != wanted or against > 0, candidate.score, device.id)


def _against(checks: tuple[Finding, ...]) -> tuple[Finding, ...]:
    return tuple(finding for finding in checks if finding.verdict is Verdict.FAIL)


def _reason(choice: SpdChoice, candidate: Candidate, wanted: str) -> str:
    """Say in two sentences why this one, and why not the one that was wished for."""
    suitable = sum(other.suitable for other in choice.candidates)
    device, spd = candidate.device, candidate.device.spd
    stress_v = max(spd.up_v, spd.up_ln_v) if spd else 0.0
    said = (
        f"{_called(candidate)}: {suitable} of {len(choice.candidates)} SPDs suit this place; this "
        f"one lets {stress_v:g} V through, {device.width_mm:.0f} mm wide. "
        f"{candidate.backup.reason}"
    )
    for other in choice.candidates:
        if other.device.id == wanted != device.id:
            why = " ".join(finding.message for finding in _against(other.checks))
            return f"{said} Not the {other.device.name} wished for: {why}"
    return said


def _nothing(candidates: tuple[Candidate, ...]) -> str:
    """Name the SPD that comes nearest and what stands against it."""
    if not candidates:
        return "The catalogue has no SPD."
    nearest = candidates[0]
    why = " ".join(finding.message for finding in _against(nearest.checks))
    return f"No SPD in the catalogue suits this place. Nearest, {_called(nearest)}: {why}"


def _called(candidate: Candidate) -> str:
    return f"{candidate.device.maker} {candidate.device.name}"
