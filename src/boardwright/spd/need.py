"""Whether surge protection is needed here, and of what type at least."""

from __future__ import annotations

from dataclasses import astuple

from boardwright.core.findings import Rule
from boardwright.job.job import Job
from boardwright.job.supply import SurgeEnvironment
from boardwright.spd.results import Need, SurgeNeed
from boardwright.spd.risk import LineLengths, LineWeights, risk_level, weighted_length_m
from boardwright.standards.edition import Edition


def surge_need(job: Job, edition: Edition) -> SurgeNeed:
    """Return the decision for a home, with the risk level as an advisory figure beside it.

    References
    ----------
    BS 7671, 443.4.1 and 534.4.1.

    Raises
    ------
    FieldError
        The lines outside add up to more than the rule considers.
    """
    crl, crl_note = _crl(job.surge_environment, edition)
    need, basis, rule = _decision(job.surge_environment, crl, edition)
    least_type, reason, iimp_a = _least_type(job, edition)
    return SurgeNeed(
        need=need,
        basis=basis,
        rule=rule,
        crl=crl,
        crl_note=crl_note,
        least_type=least_type,
        least_type_reason=reason,
        type_1_advised=least_type != "T1" and _exposed(job),
        iimp_min_10x350_a=iimp_a,
    )


def mandatory(environment: SurgeEnvironment) -> tuple[str, ...]:
    """Return the consequences, in words, that make surge protection a duty."""
    return _answered(environment, "yes")


def unasked(environment: SurgeEnvironment) -> tuple[str, ...]:
    """Return the consequences that the survey has not asked about yet."""
    return _answered(environment, None)


def _answered(environment: SurgeEnvironment, answer: str | None) -> tuple[str, ...]:
    asked = (
        (environment.injury_possible, "serious injury or death"),
        (environment.large_loss_possible, "significant loss of money or data"),
    )
    return tuple(words for answered, words in asked if answered == answer)


def _decision(
    environment: SurgeEnvironment, crl: float | None, edition: Edition
) -> tuple[Need, str, Rule]:
    duties = mandatory(environment)
    if duties:
        basis = f"An overvoltage could cause {' and '.join(duties)}: surge protection is a duty."
        return Need.REQUIRED, basis, edition.rule("spd.mandatory_consequences")
    if edition.switch("crl.in_use"):
        return _by_risk_level(crl, edition)
    if environment.declined_by == edition.text("spd.decline_by"):
        basis = "The owner declined in writing and accepts the risk to wiring and equipment."
        return Need.DECLINED, basis, edition.rule("spd.decline_by")
    basis = "Surge protection is fitted unless the owner declines and accepts the risk."
    if environment.declined_by:
        basis += f" The {environment.declined_by}'s word does not stand for the owner's."
    return Need.FIT, basis, edition.rule("spd.default")


def _by_risk_level(crl: float | None, edition: Edition) -> tuple[Need, str, Rule]:
    """Decide as IEC 60364-4-44, 443.4 does: a level not worked out asks as a low one does."""
    limit = edition.number("crl.limit")
    if crl is None:
        basis = "The risk level is not worked out, and so surge protection is asked for."
        return Need.REQUIRED, basis, edition.rule("spd.default")
    if round(crl, 6) < limit:
        basis = f"The risk level is below {limit:g}: surge protection is asked for."
        return Need.REQUIRED, basis, edition.rule("crl.limit")
    basis = f"The risk level is not below {limit:g}: surge protection is not asked for, only wise."
    return Need.FIT, basis, edition.rule("crl.limit")


def _least_type(job: Job, edition: Edition) -> tuple[str, str, float | None]:
    """Return the least test class, why, and the least impulse current of a Type 1."""
    environment = job.surge_environment
    level = environment.external_lps
    if level != "none":
        iimp_a = edition.number(f"spd.t1_iimp_lpl_{level.lower()}_a")
        reason = (
            f"External lightning protection, level {level}: part of a strike to the building "
            f"leaves by the supply. The designer of the lightning protection may ask for more."
        )
        return "T1", reason, iimp_a
    if environment.direct_strike_to_line == "yes":
        reason = "Protection against a strike to the overhead line itself is asked for."
        return "T1", reason, edition.number("spd.t1_iimp_a")
    reason = "No external lightning protection, and no strike to the line itself to be met."
    if _exposed(job):
        reason += " An overhead line in the country: Type 1+2 is advised all the same."
    return "T2", reason, None


def _exposed(job: Job) -> bool:
    return job.supply.service == "overhead" and job.surge_environment.setting == "rural"


def _crl(environment: SurgeEnvironment, edition: Edition) -> tuple[float | None, str]:
    """Return the risk level, or None where it is not known, with a sentence on either."""
    ng_per_km2_year = environment.ng_per_km2_year
    lengths_m = (
        environment.lv_overhead_m,
        environment.lv_underground_m,
        environment.hv_overhead_m,
        environment.hv_underground_m,
    )
    if ng_per_km2_year is None:
        return None, "Not worked out: the ground flash density is not known."
    lines = LineLengths(*(length_m or 0.0 for length_m in lengths_m))
    crl = _crl_of(lines, environment, edition)
    if None in lengths_m or crl is None:
        return None, _note_of_unknown(lines, environment, edition)
    limit = edition.number("crl.limit")
    # A level of exactly the limit must not fall below it by a last binary digit.
    side = "below" if round(crl, 6) < limit else "not below"
    return crl, f"Calculated risk level {_shown(crl)}, {side} {limit:g}. {_standing(edition)}"


def _crl_of(lines: LineLengths, environment: SurgeEnvironment, edition: Edition) -> float | None:
    weights = LineWeights(
        edition.number("crl.weight_lv_overhead"),
        edition.number("crl.weight_lv_underground"),
        edition.number("crl.weight_hv_overhead"),
        edition.number("crl.weight_hv_underground"),
    )
    lp_m = weighted_length_m(lines, weights, edition.number("crl.total_max_m"))
    env_factor = edition.number(f"crl.env_{environment.setting}")
    return risk_level(env_factor, lp_m, environment.ng_per_km2_year or 0.0)


def _note_of_unknown(lines: LineLengths, environment: SurgeEnvironment, edition: Edition) -> str:
    """Say what the level would be with the unknown rest taken as the worst line."""
    rest_m = edition.number("crl.total_max_m") - lines.total_m
    overhead_m, *others_m = astuple(lines)
    worst = _crl_of(LineLengths(overhead_m + rest_m, *others_m), environment, edition) or 0.0
    return (
        f"Not worked out: the lengths of the lines outside are not all known. With the other "
        f"{rest_m:g} m taken as low-voltage overhead line it would be {_shown(worst)}. "
        f"{_standing(edition)}"
    )


def _shown(crl: float) -> str:
    """Show three figures, as the annex prints them."""
    return f"{crl:.0f}" if crl >= 100 else f"{crl:.3g}"  # noqa: PLR2004 - where three figures end


def _standing(edition: Edition) -> str:
    if edition.switch("crl.in_use"):
        return "The edition decides by it."
    return "An indicator only: the edition designed to does not decide by it."
