"""Checks on the SPD: whether it is needed, whether it suits, what its leads leave of it."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.catalogue.devices import SpdData
from boardwright.core.findings import Finding, Sense, Verdict
from boardwright.spd.conductors import least_line_mm2, least_pe_mm2
from boardwright.spd.need import mandatory, unasked
from boardwright.spd.results import Candidate, Need
from boardwright.surge.lead import level_with_leads_v
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.spd_remedy import lead_remedy
from boardwright.wiring.results import SpdLeads

SUBJECT = "SPD"


@check
def needed(facts: Facts) -> Iterator[Finding]:
    """Surge protection must be there unless the owner may decline it and does (443.4.1)."""
    verdict, message, remedy = _need(facts)
    yield Finding(
        check="spd.need",
        verdict=verdict,
        subject=SUBJECT,
        subject_id="spd",
        message=message,
        rule=facts.need.rule,
        remedy=remedy,
    )


@check
def decline_stands(facts: Facts) -> Iterator[Finding]:
    """Only the owner may decline, and only where no grave consequence is possible (443.4.1)."""
    environment = facts.job.surge_environment
    by, duties = environment.declined_by, mandatory(environment)
    if by is None:
        return
    owner = by == facts.edition.text("spd.decline_by")
    if duties:
        message = (
            f"Declined, but {' and '.join(duties)} is possible: that is not open to declining."
        )
    elif not owner:
        message = f"Declined by the {by}, whose word does not stand for the owner's."
    else:
        message = "The owner declined in writing and accepts the risk to wiring and equipment."
    stands = owner and not duties
    yield Finding(
        check="spd.decline",
        verdict=Verdict.PASS if stands else Verdict.ADVISE,
        subject=SUBJECT,
        subject_id="spd",
        message=message,
        rule=facts.edition.rule("spd.decline_by"),
        remedy="" if stands else "The SPD stays in the design; tell the owner why.",
    )


@check
def risk_level_shown(facts: Facts) -> Iterator[Finding]:
    """Show the calculated risk level, an indicator where the edition leaves it out (443.5)."""
    limit = facts.edition.number("crl.limit")
    verdict = Verdict.NOT_APPLICABLE
    if facts.edition.switch("crl.in_use") and facts.need.crl is not None:
        verdict = Verdict.PASS if facts.need.crl >= limit else Verdict.ADVISE
    yield Finding(
        check="spd.risk_level",
        verdict=verdict,
        subject="Calculated risk level",
        subject_id="spd",
        message=facts.need.crl_note,
        rule=facts.edition.rule("crl.in_use"),
        value=facts.need.crl,
        limit=limit,
        sense=Sense.AT_LEAST,
    )


@check
def suits(facts: Facts) -> Iterator[Finding]:
    """Each rating of the SPD taken, against the place it takes (Section 534)."""
    if facts.spd.candidate is not None:
        yield from facts.spd.candidate.checks


@check
def leads_short(facts: Facts) -> Iterator[Finding]:
    """Hold the leads in series with the SPD to 0.5 m where it can be, to 1 m always (534.4.8)."""
    leads = _leads(facts)
    if leads is None:
        return
    good_m, max_m = (
        facts.edition.number("spd.leads_good_m"),
        facts.edition.number("spd.leads_max_m"),
    )
    total_m = round(leads.total_m, 3)
    verdict = Verdict.PASS if total_m <= good_m else Verdict.ADVISE
    verdict = verdict if total_m <= max_m else Verdict.FAIL
    if leads.assumed and verdict is not Verdict.FAIL:
        verdict = Verdict.UNKNOWN
    key = "spd.leads_max_m" if verdict is Verdict.FAIL else "spd.leads_good_m"
    yield Finding(
        check="spd.leads",
        verdict=verdict,
        subject="SPD leads",
        subject_id="spd",
        message=_lead_sentence(leads),
        rule=facts.edition.rule(key),
        value=total_m,
        limit=facts.edition.number(key),
        unit="m",
        remedy=lead_remedy(facts, verdict),
    )


@check
def level_at_the_board(facts: Facts) -> Iterator[Finding]:
    """Up and the drop along its leads, against what category II equipment withstands (534.4.4)."""
    leads, spd = _leads(facts), _spd(facts)
    if leads is None or spd is None:
        return
    edition = facts.edition
    v_per_m = edition.number("spd.lead_v_per_m")
    level_v = level_with_leads_v(
        spd.up_v,
        spd.up_ln_v,
        line_m=leads.line_m,
        neutral_m=leads.neutral_m,
        pe_m=leads.pe_m,
        drop_v_per_m=v_per_m,
    )
    up_v = round(level_v, 1)
    verdict, key = Verdict.PASS, "uw.category_ii_v"
    if up_v > edition.number("spd.up_good_v"):
        verdict, key = Verdict.ADVISE, "spd.up_good_v"
    if up_v > edition.number("uw.category_ii_v"):
        verdict, key = Verdict.FAIL, "uw.category_ii_v"
    yield Finding(
        check="spd.up_effective",
        verdict=verdict,
        subject="Protection level with leads",
        subject_id="spd",
        message=(
            f"{up_v:.0f} V with the drop along its leads, {v_per_m:g} V for each metre; "
            f"category II equipment withstands {edition.number('uw.category_ii_v'):g} V."
        ),
        rule=edition.rule(key),
        value=up_v,
        limit=edition.number(key),
        unit="V",
        remedy="" if verdict is Verdict.PASS else "Shorten the leads or take a lower level.",
    )


@check
def connections_thick_enough(facts: Facts) -> Iterator[Finding]:
    """Copper to the SPD, as wired (534.4.10, its maker's least, and common practice)."""
    candidate, spd = facts.spd.candidate, _spd(facts)
    if candidate is None or spd is None or facts.wiring is None:
        return
    line_mm2 = least_line_mm2(spd, candidate.backup, facts.edition)
    pe_mm2 = least_pe_mm2(spd, facts.edition)
    letter = "t1" if "T1" in spd.types else "t2"
    for conductor in facts.wiring.conductors:
        if not any(terminal.startswith("spd.") for terminal in conductor.terminals):
            continue
        earth = conductor.function == "PE"
        least_mm2 = pe_mm2 if earth else line_mm2
        good = conductor.csa_mm2 >= least_mm2
        key = f"spd.csa_{letter}_{'pe' if earth else 'line'}_mm2"
        yield Finding(
            check="spd.conductors",
            verdict=Verdict.PASS if good else Verdict.FAIL,
            subject=f"SPD connection {conductor.function}",
            subject_id=conductor.id,
            message=f"{conductor.csa_mm2:g} mm² copper, at least {least_mm2:g} mm² asked for.",
            rule=facts.edition.rule(key),
            value=conductor.csa_mm2,
            limit=least_mm2,
            unit="mm²",
            sense=Sense.AT_LEAST,
            remedy="" if good else f"Take {least_mm2:g} mm².",
        )


def _need(facts: Facts) -> tuple[Verdict, str, str]:
    """Return verdict, message and remedy on the need."""
    need, candidate = facts.need, facts.spd.candidate
    if need.need is Need.DECLINED:
        missing = unasked(facts.job.surge_environment)
        if missing:
            message = f"{need.basis} Not asked yet: whether {' or '.join(missing)} is possible."
            return Verdict.UNKNOWN, message, "Ask before the owner's word is taken."
        remedy = "Keep the signed declaration with the certificate and list it in the comments."
        return Verdict.ADVISE, need.basis, remedy
    if candidate is None:
        return Verdict.FAIL, f"{need.basis} {facts.spd.reason}", "Fit an SPD that suits."
    return Verdict.PASS, f"{need.basis} {candidate.device.maker} {candidate.device.name}.", ""


def _lead_sentence(leads: SpdLeads) -> str:
    said = (
        f"Line {leads.line_m:.2f} m, neutral {leads.neutral_m:.2f} m, earth {leads.pe_m:.2f} m: "
        f"{leads.total_m:.2f} m by the longer way."
    )
    if leads.v_wired:
        said += " V wiring: the supply runs through its terminals."
    if leads.assumed:
        said += " The way outside the box is assumed."
    return said


def _leads(facts: Facts) -> SpdLeads | None:
    return facts.wiring.spd_leads if facts.wiring else None


def _spd(facts: Facts) -> SpdData | None:
    candidate: Candidate | None = facts.spd.candidate
    return candidate.device.spd if candidate else None
