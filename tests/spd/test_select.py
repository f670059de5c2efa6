"""The choice among the catalogue's SPDs, on invented devices."""

from dataclasses import replace

import pytest

from boardwright.core.errors import FieldError
from boardwright.core.findings import Verdict
from boardwright.spd.conductors import least_line_mm2, least_pe_mm2
from boardwright.spd.need import surge_need
from boardwright.spd.results import Backup, BackupKind, Need, SpdChoice
from boardwright.spd.select import SpdSite, choose_spd, take
from tests.spd.samples import (
    CATALOGUE,
    EDITION,
    NEED,
    SITE,
    failed,
    finding,
    home_with,
    spd,
    weigh,
)


def _chosen(site: SpdSite, need: object = NEED) -> SpdChoice:
    return choose_spd(site, need, CATALOGUE, EDITION)  # type: ignore[arg-type]


def _taken(site: SpdSite, need: object = NEED) -> str:
    candidate = _chosen(site, need).candidate
    assert candidate is not None
    return candidate.device.id


@pytest.mark.parametrize(
    ("family", "phases", "device_id"),
    [
        ("ravel-r1", 1, "ravel-spd-t2"),
        ("tarn-t3", 1, "tarn-spd-t2"),
        ("ostrey-box", 1, "ostrey-s1"),
        ("ravel-r3", 3, "ravel-spd-3p-31"),
    ],
)
def test_each_family_gets_its_maker_s_own(family: str, phases: int, device_id: str) -> None:
    site = replace(SITE, family=family, phases=phases)  # type: ignore[arg-type]

    assert _taken(site) == device_id


def test_every_spd_is_weighed_with_its_reasons() -> None:
    choice = _chosen(SITE)

    assert {c.device.id for c in choice.candidates} == {
        d.id for d in CATALOGUE.devices.values() if d.spd
    }
    assert all(c.suitable == (not failed(c)) for c in choice.candidates)
    assert all(finding.message and finding.rule.clause for finding in choice.candidates[0].checks)


def test_the_suitable_stand_first() -> None:
    suitable = [c.suitable for c in _chosen(SITE).candidates]

    assert suitable == sorted(suitable, reverse=True)


def test_an_overhead_line_in_the_country_prefers_type_1() -> None:
    job = home_with({"service": "overhead", "system": "TT"})
    need = surge_need(job, EDITION)
    site = replace(SITE, system="TT")

    assert (need.least_type, need.type_1_advised) == ("T2", True)
    assert _taken(site, need) == "ravel-spd-t12"
    type_2 = weigh(spd("ravel-spd-t2"), site, need)
    assert type_2.suitable
    assert finding(type_2, "spd.type_overhead").verdict is Verdict.ADVISE


def test_a_wish_is_met_where_it_suits() -> None:
    assert _taken(replace(SITE, wanted="ostrey-s1")) == "ostrey-s1"


def test_a_wish_that_does_not_suit_is_told() -> None:
    choice = _chosen(replace(SITE, wanted="tarn-spd-t2"))

    assert choice.candidate is not None
    assert choice.candidate.device.id == "ravel-spd-t2"
    assert "wished for: Not declared" in choice.reason


def test_a_wish_that_is_not_in_the_catalogue_is_an_error() -> None:
    with pytest.raises(FieldError, match=r"wishes\.spd"):
        _chosen(replace(SITE, wanted="ravel-spd-t9"))


def test_nothing_suits_is_said_with_the_nearest() -> None:
    choice = _chosen(replace(SITE, ipf_a=50_000))

    assert choice.candidate is None
    assert "Nearest, Ravel" in choice.reason


def test_a_declined_spd_is_not_chosen() -> None:
    choice = _chosen(SITE, replace(NEED, need=Need.DECLINED, basis="The owner declined."))

    assert (choice.candidate, choice.reason) == (None, "The owner declined.")


@pytest.mark.parametrize(("free", "fails"), [(2, True), (3, False), (None, False)])
def test_width_counts_the_breaker_too(free: int | None, fails: bool) -> None:  # noqa: FBT001 - a column of the table above
    candidate = weigh(spd("ravel-spd-t2"), replace(SITE, modules_free=free))

    assert ("spd.width" in failed(candidate)) is fails


def test_a_narrow_space_takes_the_narrow_one() -> None:
    assert _taken(replace(SITE, modules_free=1)) == "ostrey-s1"


def test_a_board_of_unknown_make_is_unknown() -> None:
    candidate = weigh(spd(), replace(SITE, family=""))

    assert finding(candidate, "spd.family").verdict is Verdict.UNKNOWN


@pytest.mark.parametrize(
    ("device_id", "cutout_fuse_a", "kind", "verdict"),
    [
        ("ravel-spd-t2", 100, BackupKind.MCB, Verdict.PASS),
        ("ravel-spd-t12", 100, BackupKind.CUTOUT, Verdict.ADVISE),
        ("ravel-spd-t12", None, BackupKind.CUTOUT, Verdict.UNKNOWN),
        ("ravel-spd-t12", 200, BackupKind.NONE, Verdict.FAIL),
    ],
)
def test_backup(
    device_id: str, cutout_fuse_a: float | None, kind: BackupKind, verdict: Verdict
) -> None:
    candidate = weigh(spd(device_id), replace(SITE, cutout_fuse_a=cutout_fuse_a))

    assert candidate.backup.kind is kind
    assert finding(candidate, "spd.backup").verdict is verdict


def test_a_tested_breaker_counts_only_where_it_may_stand() -> None:
    in_box = weigh(spd("ostrey-s1"), replace(SITE, family="ostrey-box"))
    in_board = weigh(spd("ostrey-s1"), SITE)

    assert in_box.backup.kind is BackupKind.MCB
    assert in_board.backup.kind is BackupKind.CUTOUT


def test_a_built_in_fuse_needs_nothing_ahead() -> None:
    site = replace(SITE, family="ostrey-box", cutout_fuse_a=None)

    assert weigh(spd("ostrey-s2-f"), site).backup.kind is BackupKind.INTERNAL


@pytest.mark.parametrize(
    ("rating_a", "line_mm2"), [(16, 2.5), (20, 2.5), (25, 4), (32, 4), (40, 10), (100, 10)]
)
def test_own_connections_behind_a_breaker(rating_a: float, line_mm2: float) -> None:
    """Common practice, no source: 2.5 mm² behind 20 A, 4 mm² behind 32 A, earth not under 6 mm²."""
    data = spd(csa_line_mm2=1.5, csa_pe_mm2=1.5).spd
    assert data is not None
    backup = Backup(BackupKind.MCB, rating_a, None, "")

    assert least_line_mm2(data, backup, EDITION) == line_mm2
    assert least_pe_mm2(data, EDITION) == 6


def test_connections_of_a_type_1() -> None:
    """Lightning guide citing IEC 60364-5-53: 16 mm² to earth; 6 mm² to the line from memory."""
    data = spd("ravel-spd-t12", csa_line_mm2=1.5, csa_pe_mm2=1.5).spd
    assert data is not None
    backup = Backup(BackupKind.INTERNAL, None, None, "")

    assert least_line_mm2(data, backup, EDITION) == 6
    assert least_pe_mm2(data, EDITION) == 16


def test_the_maker_may_ask_for_more() -> None:
    data = spd(csa_line_mm2=16, csa_pe_mm2=25).spd
    assert data is not None

    assert least_line_mm2(data, Backup(BackupKind.MCB, 20, None, ""), EDITION) == 16
    assert least_pe_mm2(data, EDITION) == 25


def test_taking_another_candidate_takes_its_connections_too() -> None:
    choice = _chosen(SITE)
    type_1 = next(c for c in choice.candidates if c.device.id == "ravel-spd-t12")

    taken = take(choice, type_1, EDITION)

    assert (choice.csa_line_mm2, choice.csa_pe_mm2) == (4, 6)
    assert (taken.csa_line_mm2, taken.csa_pe_mm2) == (10, 16)
    assert taken.candidate is type_1


def test_the_same_place_gives_the_same_choice() -> None:
    assert _chosen(SITE) == _chosen(SITE)
