"""The working of the surge protection: risk level, protection level, fuses ahead and wear."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.circuits.working.step import Formula, Sheet, Step
from boardwright.design import Design
from boardwright.documents.workings.duty import duty_working
from boardwright.job.supply import SurgeEnvironment
from boardwright.spd.risk import risk_level
from boardwright.standards.edition import Edition
from boardwright.surge.lead import effective_up_v

_SHEET = Sheet("Surge protection")

_LINES = ("lv_overhead", "lv_underground", "hv_overhead", "hv_underground")


def _risk(env_factor: float, lp_m: float, ng_per_km2_year: float) -> float:
    return risk_level(env_factor, lp_m, ng_per_km2_year) or 0.0


LEVEL_PE = Formula(
    "up_effective_v",
    "Protection level with its leads, line to earth",
    "{up_v} + {leads_m} · {drop_v_per_m}",
    effective_up_v,
)
LEVEL_N = Formula(
    "up_effective_v",
    "Protection level with its leads, line to neutral",
    "{up_v} + {leads_m} · {drop_v_per_m}",
    effective_up_v,
)
RISK = Formula(
    "crl_ratio",
    "Calculated risk level",
    "{env_factor} / ({lp_m} / 1000 · {ng_per_km2_year})",
    _risk,
)


def spd_working(design: Design) -> tuple[Step, ...]:
    """Return the risk level, the level at the board, the fuses ahead and the wear, where known."""
    return (*_risk_steps(design), *_level_steps(design), *duty_working(design))


def _risk_steps(design: Design) -> Iterator[Step]:
    around, edition = design.job.surge_environment, design.edition
    if design.need.crl is None or not around.ng_per_km2_year:
        return
    lp_m = sum(_weighted_m(around, edition))
    values = {
        "env_factor": edition.number(f"crl.env_{around.setting}"),
        "lp_m": lp_m,
        "ng_per_km2_year": around.ng_per_km2_year,
    }
    yield _SHEET.worked(RISK, values, edition.rule("crl.limit"), f"limit {_limit(edition)}")


def _limit(edition: Edition) -> str:
    in_use = "" if edition.switch("crl.in_use") else "; the edition does not decide by it"
    return f"{edition.number('crl.limit'):g}{in_use}"


def _weighted_m(around: SurgeEnvironment, edition: Edition) -> Iterator[float]:
    for name in _LINES:
        yield edition.number(f"crl.weight_{name}") * (getattr(around, f"{name}_m") or 0.0)


def _level_steps(design: Design) -> Iterator[Step]:
    candidate, leads = design.chosen.spd.candidate, design.chosen.wiring.spd_leads
    if candidate is None or leads is None or candidate.device.spd is None:
        return
    spd, edition = candidate.device.spd, design.edition
    per_m = edition.number("spd.lead_v_per_m")
    rule = edition.rule("spd.lead_v_per_m")
    to_earth = {"up_v": spd.up_v, "leads_m": leads.total_m, "drop_v_per_m": per_m}
    across_m = leads.line_m + leads.neutral_m
    to_neutral = {"up_v": spd.up_ln_v, "leads_m": across_m, "drop_v_per_m": per_m}
    yield _SHEET.worked(LEVEL_PE, to_earth, rule, candidate.device.name)
    yield _SHEET.worked(LEVEL_N, to_neutral, rule, candidate.device.name)
