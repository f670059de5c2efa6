"""The study's bands as findings: advice where a band passes Table 443.2, never more."""

from dataclasses import replace

import pytest

from boardwright.core.findings import Finding, Verdict
from boardwright.surge.study import Band, PlaceResult
from boardwright.verification.facts import Facts
from boardwright.verification.surge import left_within_withstand
from tests.documents.golden import example


def _place(uw_v: float, high_v: float, *, fitted: bool = True) -> PlaceResult:
    bare, band = Band(6000, 7000, 8000), Band(high_v - 500, high_v - 200, high_v)
    return PlaceResult(
        "ring", "Television", uw_v, "line to earth", bare, band if fitted else None, ()
    )


def _found(*places: PlaceResult) -> list[Finding]:
    design = example("semi")
    chosen = design.chosen
    facts = Facts(
        job=design.job,
        edition=design.edition,
        catalogue=design.catalogue,
        plan=design.plan,
        need=design.need,
        spd=chosen.spd,
        board=chosen.board,
        arrangement=chosen.arrangement,
        wiring=chosen.wiring,
        study=replace(chosen.study, places=places),
    )
    return list(left_within_withstand(facts))


# Impulse withstand of categories I to IV at 230/400 V: IEC 60664-1, Table 443.2.
@pytest.mark.parametrize("uw_v", [1500.0, 2500.0, 4000.0, 6000.0])
def test_a_band_is_held_against_its_category(uw_v: float) -> None:
    within, above = _found(_place(uw_v, uw_v), _place(uw_v, uw_v + 50))

    assert (within.verdict, within.remedy) == (Verdict.PASS, "")
    assert above.verdict is Verdict.ADVISE
    assert (above.value, above.limit, above.unit) == (uw_v + 50, uw_v, "V")
    assert "443.2" in above.rule.clause
    assert "What would change the surge" in above.remedy


def test_a_home_without_an_spd_is_not_judged_by_the_study() -> None:
    assert _found(_place(2500.0, 8000.0, fitted=False)) == []


def test_the_semis_router_is_the_one_thing_above() -> None:
    """Category I, as its maker would declare it; the figure of the study's own band."""
    findings = [f for f in example("semi").findings if f.check == "surge.withstand"]
    above = [f for f in findings if f.verdict is Verdict.ADVISE]

    assert [f.subject for f in above] == ["Router and broadband box"]
    assert len(findings) == len(example("semi").chosen.study.places)
