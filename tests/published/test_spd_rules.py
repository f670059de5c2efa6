"""Verdicts on whole cases of Section 534 of BS 7671 and IEC 60364-5-53.

Sources by case: portal article on SPDs and RCDs, and a forum thread on CT2 (connection); a maker's
page on the selection of Type 1 SPDs (12.5 kA); a lightning guide (16 mm² earth); the rest, as the
tables of voltages and currents, from memory.
"""

from dataclasses import replace

import pytest

from boardwright.core.findings import Verdict
from boardwright.spd.need import surge_need
from boardwright.spd.results import Need
from boardwright.standards.load import load_edition
from tests.spd.samples import (
    EDITION,
    NEED,
    SITE,
    TYPE_1_NEEDED,
    failed,
    finding,
    home,
    spd,
    weigh,
)

TT = replace(SITE, system="TT")


def test_tt_ahead_of_the_rcd_needs_ct2() -> None:
    assert failed(weigh(spd("ravel-spd-t2-ct1"), TT)) == ["spd.connection"]
    assert failed(weigh(spd("ravel-spd-t2"), TT)) == []


def test_tt_behind_a_time_delayed_rcd_takes_either() -> None:
    behind = replace(TT, ahead_of_rcd=False, rcd_delayed=True)

    assert failed(weigh(spd("ravel-spd-t2-ct1"), behind)) == []
    assert failed(weigh(spd("ravel-spd-t2"), behind)) == []


@pytest.mark.parametrize("system", ["TN-S", "TN-C-S"])
@pytest.mark.parametrize("device_id", ["ravel-spd-t2", "ravel-spd-t2-ct1"])
def test_tn_takes_either_connection(system: str, device_id: str) -> None:
    site = replace(SITE, system=system)  # type: ignore[arg-type]

    assert failed(weigh(spd(device_id), site)) == []


@pytest.mark.parametrize(("uc_v", "fails"), [(230, True), (252, True), (253, False), (275, False)])
def test_uc_is_at_least_253_v(uc_v: float, fails: bool) -> None:  # noqa: FBT001 - a column of the table above
    assert ("spd.uc" in failed(weigh(spd(uc_v=uc_v)))) is fails


@pytest.mark.parametrize(("uc_npe_v", "fails"), [(229, True), (230, False), (255, False)])
def test_uc_from_neutral_to_earth_is_at_least_230_v(uc_npe_v: float, fails: bool) -> None:  # noqa: FBT001 - as above
    assert ("spd.uc" in failed(weigh(spd(uc_npe_v=uc_npe_v)))) is fails


@pytest.mark.parametrize(
    ("device_id", "fields", "fails"),
    [
        ("ravel-spd-t2", {"in_8x20_a": 5000, "in_npe_8x20_a": 5000}, True),
        ("ravel-spd-t2", {"in_8x20_a": 5000, "in_npe_8x20_a": 10_000}, False),
        ("ravel-spd-t2", {"in_8x20_a": 4000}, True),
        ("ravel-spd-t2-ct1", {"in_8x20_a": 5000, "in_npe_8x20_a": 5000}, False),
    ],
)
def test_nominal_currents(device_id: str, fields: dict[str, float], fails: bool) -> None:  # noqa: FBT001 - as above
    assert ("spd.in" in failed(weigh(spd(device_id, **fields)))) is fails


@pytest.mark.parametrize(("npe_a", "fails"), [(10_000, True), (20_000, False)])
def test_three_phase_neutral_to_earth_needs_20_ka(npe_a: float, fails: bool) -> None:  # noqa: FBT001 - as above
    site = replace(SITE, phases=3, family="ravel-r3")
    candidate = weigh(spd("ravel-spd-3p-31", in_npe_8x20_a=npe_a), site)

    assert ("spd.in" in failed(candidate)) is fails


def test_external_lightning_protection_needs_type_1() -> None:
    need = surge_need(home(external_lps="III"), EDITION)

    assert need.least_type == "T1"
    assert failed(weigh(spd("ravel-spd-t2"), SITE, need)) == ["spd.type"]
    assert failed(weigh(spd("ravel-spd-t12"), SITE, need)) == []


def test_a_stricter_protection_level_asks_for_more() -> None:
    need = surge_need(home(external_lps="I"), EDITION)

    assert failed(weigh(spd("ravel-spd-t12"), SITE, need)) == ["spd.iimp"]
    assert failed(weigh(spd("ravel-spd-t12", iimp_10x350_a=25_000), SITE, need)) == []


@pytest.mark.parametrize(
    ("fields", "fails"),
    [
        ({"iimp_10x350_a": 7000}, True),
        ({"iimp_npe_10x350_a": 12_500}, True),
        ({}, False),
    ],
)
def test_impulse_currents_of_a_type_1(fields: dict[str, float], fails: bool) -> None:  # noqa: FBT001 - as above
    candidate = weigh(spd("ravel-spd-t12", **fields), SITE, TYPE_1_NEEDED)

    assert ("spd.iimp" in failed(candidate)) is fails


def test_short_circuit_rating_below_the_fault_current_is_refused() -> None:
    assert failed(weigh(spd(isccr_a=10_000), replace(SITE, ipf_a=16_000))) == ["spd.short_circuit"]


def test_an_unknown_fault_current_is_not_a_pass() -> None:
    candidate = weigh(spd(), replace(SITE, ipf_a=None))

    assert finding(candidate, "spd.short_circuit").verdict is Verdict.UNKNOWN
    assert candidate.suitable


@pytest.mark.parametrize(
    ("fields", "ipf_a", "verdicts"),
    [
        ({}, 6_000, [Verdict.PASS, Verdict.PASS]),
        ({"ifi_npe_a": 50}, 6_000, [Verdict.PASS, Verdict.FAIL]),
        ({"ifi_npe_a": None}, 6_000, [Verdict.PASS, Verdict.UNKNOWN]),
        ({"gap_to_line": True, "ifi_a": 10_000}, 6_000, [Verdict.PASS, Verdict.PASS]),
        ({"gap_to_line": True, "ifi_a": 3_000}, 6_000, [Verdict.FAIL, Verdict.PASS]),
        ({"gap_to_line": True}, 6_000, [Verdict.UNKNOWN, Verdict.PASS]),
        ({"gap_to_line": True, "ifi_a": 3_000}, None, [Verdict.UNKNOWN, Verdict.PASS]),
    ],
)
def test_follow_current(
    fields: dict[str, object], ipf_a: float | None, verdicts: list[Verdict]
) -> None:
    """Installation guide on Type 1 selection: a gap to line breaks Ipf, one from N to PE 100 A."""
    checks = weigh(spd(**fields), replace(SITE, ipf_a=ipf_a)).checks  # type: ignore[arg-type]

    assert [f.verdict for f in checks if f.check == "spd.follow_current"] == verdicts


def test_behind_a_30_ma_rcd_without_delay_is_refused() -> None:
    behind = replace(SITE, ahead_of_rcd=False)

    assert failed(weigh(spd(), behind)) == ["spd.place"]
    assert "3000 A 8/20" in finding(weigh(spd(), behind), "spd.place").message


@pytest.mark.parametrize(
    ("up_v", "verdict"),
    [
        (1500, Verdict.PASS),
        (2000, Verdict.PASS),
        (2001, Verdict.ADVISE),
        (2500, Verdict.ADVISE),
        (2501, Verdict.FAIL),
    ],
)
def test_protection_level(up_v: float, verdict: Verdict) -> None:
    """At most 2.5 kV (534.4.4.2); at most 0.8 of category II is good practice (IEC 62305-4)."""
    assert finding(weigh(spd(up_v=up_v)), "spd.up").verdict is verdict


def test_type_3_alone_is_no_protection() -> None:
    """Trade article on SPD types, 2023: Type 3 supplements, never stands alone."""
    assert "spd.type" in failed(weigh(spd(types=("T3",))))


@pytest.mark.parametrize(
    ("level", "crest_ka"), [("i", 200), ("ii", 150), ("iii", 100), ("iv", 100)]
)
def test_impulse_current_by_protection_level(level: str, crest_ka: float) -> None:
    """A maker's page on Type 1 SPDs: 25, 18.75, 12.5 kA a pole.

    IEC 62305-1 Annex E, from memory: half of a strike leaves by the supply, by four conductors.
    """
    needed_a = EDITION.number(f"spd.t1_iimp_lpl_{level}_a")

    assert needed_a == crest_ka * 1000 / 2 / 4


@pytest.mark.parametrize(
    ("level", "iimp_a"), [("I", 25_000), ("II", 18_750), ("III", 12_500), ("IV", 12_500)]
)
def test_the_edition_s_impulse_currents_are_those_shares(level: str, iimp_a: float) -> None:
    assert surge_need(home(external_lps=level), EDITION).iimp_min_10x350_a == iimp_a


@pytest.mark.parametrize("edition", ["bs7671_2018_a2_a3", "bs7671_2018_a4"])
@pytest.mark.parametrize(
    ("environment", "need"),
    [
        ({}, Need.FIT),
        ({"declined_by": "owner"}, Need.DECLINED),
        ({"declined_by": "tenant"}, Need.FIT),
        ({"declined_by": "agent"}, Need.FIT),
        ({"declined_by": "owner", "injury_possible": "yes"}, Need.REQUIRED),
        ({"declined_by": "owner", "large_loss_possible": "yes"}, Need.REQUIRED),
        ({"injury_possible": "no", "large_loss_possible": "no"}, Need.FIT),
    ],
)
def test_need(edition: str, environment: dict[str, str], need: Need) -> None:
    """Trade bodies' articles on A2:2022 and its 2023 corrigendum: two duties, else the owner."""
    assert surge_need(home(**environment), load_edition(edition)).need is need


def test_type_2_is_enough_without_a_reason_for_type_1() -> None:
    assert surge_need(home(), EDITION).least_type == "T2"
    assert surge_need(home(direct_strike_to_line="yes"), EDITION).least_type == "T1"
    assert NEED.least_type == "T2"
