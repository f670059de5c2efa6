"""Checks on back-up, failure and wear of the SPD over a wired board."""

from dataclasses import replace

import pytest

from boardwright.board.results import Role, Scheme
from boardwright.catalogue.devices import TestedPairing
from boardwright.circuits.plan import plan_circuits
from boardwright.core.findings import Finding, Verdict
from boardwright.job.job import Job
from boardwright.spd.results import Backup, BackupKind, SpdChoice
from boardwright.verification.facts import Facts
from boardwright.verification.spd_failure import failed_spd
from boardwright.verification.spd_wear import wear_expected
from boardwright.verification.spd_withstand import (
    home_fuse_carries_the_surge,
    own_backup_carries_the_surge,
)
from tests.documents.golden import example
from tests.spd.samples import CATALOGUE, EDITION, SITE, home, home_with
from tests.verification.spd_samples import choice, conductor, facts, items, one

MAIN = ("main-switch", Role.MAIN_SWITCH, "ravel-ms-100")
SPD = ("spd", Role.SPD, "ravel-spd-t2")
BACKUP = ("spd-backup", Role.SPD_BACKUP, "ravel-mcb-c32")
TAIL = conductor(("meter.L", "main-switch.L-in"), "L", 25)
LINK = conductor(("spd-backup.L-out", "spd.L"), "L", 4)
BEHIND = (TAIL, LINK, conductor(("main-switch.L-out", "spd-backup.L-in"), "L"))
AHEAD = (TAIL, LINK, conductor(("meter.L", "spd-backup.L-in"), "L"))
SUPPLY = {"ipf_a": 1200, "cutout_fuse_standard": "BS 88-3", "ze_ohm": 0.2}
SUBMAIN = {"fuse_a": 63, "cable": "swa 90", "line_mm2": 25, "cpc_mm2": 10, "length_m": 10}
LINES = {"lv_overhead_m": 1000, "lv_underground_m": 0, "hv_overhead_m": 0, "hv_underground_m": 0}


def _facts(job: Job, spd: SpdChoice, **parts: object) -> Facts:
    plan = plan_circuits(job, CATALOGUE, EDITION)
    return replace(facts(job, spd), plan=plan, **parts)  # type: ignore[arg-type]


def _wired(job: Job, conductors: tuple[object, ...]) -> Facts:
    board = items(MAIN, SPD, BACKUP)
    made = facts(job, choice(job), arrangement=board, conductors=conductors)  # type: ignore[arg-type]
    return replace(made, plan=plan_circuits(job, CATALOGUE, EDITION))


def _with_data(spd: SpdChoice, **fields: object) -> SpdChoice:
    candidate = spd.candidate
    assert candidate is not None
    assert candidate.device.spd is not None
    data = candidate.device.spd.model_copy(update=fields)
    device = candidate.device.model_copy(update={"spd": data})
    return replace(spd, candidate=replace(candidate, device=device))


def _with_backup(spd: SpdChoice, backup: Backup) -> SpdChoice:
    assert spd.candidate is not None
    return replace(spd, candidate=replace(spd.candidate, backup=backup))


def _fuse(standard: str, fuse_a: float, **fields: object) -> Finding:
    job = home_with({"cutout_fuse_standard": standard, "cutout_fuse_a": fuse_a})
    return one(home_fuse_carries_the_surge, facts(job, _with_data(choice(job), **fields)))


def test_a_tested_fuse_passes_with_the_figure_of_the_test() -> None:
    found = _fuse("BS 88-3", 80)

    assert found.verdict is Verdict.PASS
    assert "25 kA was tested" in found.message


def test_an_untested_fuse_gets_no_single_figure_but_a_bound_and_what_speaks_against_it() -> None:
    """Laboratory comparison: a 63 A gG is unfit for 20 kA, where the sum gives 25 kA."""
    found = _fuse("BS 88-3", 63, imax_8x20_a=None)

    assert (found.verdict, found.value, found.limit) == (Verdict.UNKNOWN, None, None)
    assert "at most 25.3 kA" in found.message
    assert "unfit for an SPD of 20 kA" in found.message


def test_the_sum_of_a_gg_fuse_says_what_fuse_it_is_not() -> None:
    assert "(this one: BS 1361)" in _fuse("BS 1361", 60, imax_8x20_a=None).message
    assert "this one" not in _fuse("BS 88-2", 63, imax_8x20_a=None).message


def test_a_rewirable_fuse_has_no_sum() -> None:
    assert "No sum settles it" in _fuse("BS 3036", 60).message


def test_a_fuse_that_must_open_is_told_with_who_puts_it_back() -> None:
    found = _fuse("BS 88-3", 60, tested=())

    assert (found.verdict, found.value) == (Verdict.ADVISE, 40_000)
    assert "network operator or supplier" in found.remedy


def test_each_fuse_on_the_way_is_asked() -> None:
    job = home_with(SUPPLY | {"submain": SUBMAIN})

    found = list(home_fuse_carries_the_surge(facts(job, choice(job))))

    assert [finding.subject for finding in found] == [
        "Cut-out fuse 100 A",
        "Distribution circuit fuse 63 A",
    ]
    assert "intake" in found[1].remedy


def test_a_cut_out_of_unknown_rating_is_told_elsewhere() -> None:
    job = home_with({"cutout_fuse_a": None})

    assert not list(home_fuse_carries_the_surge(facts(job, choice(job))))


@pytest.mark.parametrize(
    ("tested_a", "verdict"),
    [
        (40_000, Verdict.PASS),
        (20_000, Verdict.PASS),
        (15_000, Verdict.FAIL),
        (None, Verdict.UNKNOWN),
    ],
)
def test_the_spd_s_own_breaker_must_carry_in(tested_a: float | None, verdict: Verdict) -> None:
    """IEC 61643-12, quoted by a breaker vendor: no operation at In, allowed at Imax."""
    pairing = TestedPairing(mcb="ravel-mcb-c32", carried_8x20_a=tested_a) if tested_a else None
    job = home()
    spd = _with_data(choice(job), tested=(pairing,) if pairing else ())

    assert one(own_backup_carries_the_surge, facts(job, spd)).verdict is verdict


def test_a_breaker_without_a_figure_is_told_of_the_scatter() -> None:
    job = home()
    found = one(own_backup_carries_the_surge, facts(job, _with_data(choice(job), tested=())))

    assert "some of 40 A trip" in found.message


def test_a_built_in_fuse_has_a_figure_of_its_own() -> None:
    job = home()
    spd = _with_backup(choice(job), Backup(BackupKind.INTERNAL, None, None, "built in"))
    known = _with_data(spd, built_in_8x20_a=25_000)

    assert one(own_backup_carries_the_surge, facts(job, known)).verdict is Verdict.PASS
    assert one(own_backup_carries_the_surge, facts(job, spd)).verdict is Verdict.UNKNOWN


def test_where_the_cut_out_alone_protects_it_a_failure_takes_the_home() -> None:
    job = home_with(SUPPLY)
    spd = _with_backup(choice(job), Backup(BackupKind.CUTOUT, 100, None, "cut-out"))

    found = one(failed_spd, _facts(job, spd))

    assert found.verdict is Verdict.ADVISE
    assert "Cut-out fuse 100 A is what opens: the whole home goes dark" in found.message
    assert not list(own_backup_carries_the_surge(facts(job, spd)))


def test_on_a_remote_board_only_that_board_goes_dark() -> None:
    job = home_with(SUPPLY | {"submain": SUBMAIN})
    spd = _with_backup(choice(job), Backup(BackupKind.CUTOUT, 63, None, "cut-out"))

    found = one(failed_spd, _facts(job, spd))

    assert "Distribution circuit fuse 63 A is what opens: everything on this board" in found.message


@pytest.mark.parametrize(
    ("ipf_a", "fuse_a", "verdict"),
    [(1200, 100, Verdict.PASS), (1200, 63, Verdict.ADVISE), (1700, 100, Verdict.ADVISE)],
)
def test_its_breaker_opens_alone_only_below_what_melts_the_fuse(
    ipf_a: float, fuse_a: float, verdict: Verdict
) -> None:
    """Half a cycle of 1.2 kA is 14,400 A²s, of 1.7 kA 28,900; 63 A gG 9,000, 100 A 27,000."""
    job = home_with(SUPPLY | {"ipf_a": ipf_a, "cutout_fuse_a": fuse_a, "tails": {}})

    assert one(failed_spd, _facts(job, choice(job))).verdict is verdict


@pytest.mark.parametrize(
    ("supply", "missing"),
    [
        ({"cutout_fuse_a": None}, "the cartridge fuse ahead"),
        ({"cutout_fuse_standard": "BS 3036"}, "the cartridge fuse ahead"),
        ({"ipf_a": None}, "the prospective fault current"),
        ({"ipf_a": 300}, "300 A does not trip it at once"),
    ],
)
def test_what_the_sum_waits_for_is_named(supply: dict[str, object], missing: str) -> None:
    """C32 trips at once from 320 A at the latest: ten times its rating (IEC 60898-1)."""
    job = home_with(SUPPLY | supply)

    found = one(failed_spd, _facts(job, choice(job)))

    assert found.verdict is Verdict.UNKNOWN
    assert missing in found.message


def test_a_built_in_fuse_waits_for_its_makers_figure() -> None:
    job = home_with(SUPPLY)
    spd = _with_backup(choice(job), Backup(BackupKind.INTERNAL, None, None, "built in"))

    assert "maker's figure" in one(failed_spd, _facts(job, spd)).message


def test_who_works_on_it_is_told_whether_the_main_switch_parts_it() -> None:
    job = home_with(SUPPLY)
    behind, ahead = (one(failed_spd, _wired(job, each)).message for each in (BEHIND, AHEAD))
    box = _facts(job, choice(job), arrangement=items(SPD, BACKUP, scheme=Scheme.SEPARATE_BOX))

    assert "stands behind the main switch" in behind
    assert "ahead of the main switch, which does not make it dead" in ahead
    assert "does not make it dead" in one(failed_spd, box).message
    assert "not seen here" in one(failed_spd, _wired(job, (LINK,))).message


def test_an_rcd_on_its_way_takes_its_section_along() -> None:
    job = home_with(SUPPLY)
    board = items(MAIN, SPD, BACKUP, ("incomer-rcd", Role.INCOMER_RCD, "ravel-rccb-63"))
    wired = (
        TAIL,
        LINK,
        conductor(("main-switch.L-out", "incomer-rcd.L-in"), "L"),
        conductor(("incomer-rcd.L-out", "spd-backup.L-in"), "L"),
    )
    made = facts(job, choice(job), arrangement=board, conductors=wired)
    made = replace(made, plan=plan_circuits(job, CATALOGUE, EDITION))

    assert "A failure to earth trips incomer-rcd first" in one(failed_spd, made).message


@pytest.mark.parametrize(
    ("environment", "fields", "verdict"),
    [
        ({"setting": "suburban", "ng_per_km2_year": 0.5} | LINES, {}, Verdict.PASS),
        ({"ng_per_km2_year": 20} | LINES, {"in_8x20_a": 5e3, "imax_8x20_a": 1e4}, Verdict.ADVISE),
        ({}, {"in_8x20_a": 200, "imax_8x20_a": 400}, Verdict.UNKNOWN),
    ],
)
def test_wear(environment: dict[str, object], fields: dict[str, object], verdict: Verdict) -> None:
    job = home(**environment)

    found = one(wear_expected, facts(job, _with_data(choice(job), **fields)))

    assert found.verdict is verdict
    assert (found.value, found.limit) == (None, None)


def test_a_decline_is_shown_the_same_figures() -> None:
    asked = {"injury_possible": "no", "large_loss_possible": "no", "ng_per_km2_year": 0.7} | LINES
    fitted, declined = home(**asked), home(**asked | {"declined_by": "owner"})

    kept = one(wear_expected, facts(fitted, choice(fitted)))
    given_up = one(wear_expected, facts(declined, choice(declined)))
    lasts = kept.message.partition("lasts ")[2].partition(".")[0]

    assert given_up.verdict is Verdict.NOT_APPLICABLE
    assert "Ravel SPD Type 2, 1+1, 20 kA, plug-in, declined," in given_up.message
    assert lasts
    assert lasts in given_up.message


def test_where_nothing_suits_nothing_wears() -> None:
    job = home()
    none = choice(job, replace(SITE, ipf_a=60_000))

    assert not list(wear_expected(facts(job, none)))
    assert not list(failed_spd(_facts(job, none)))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "check", "subject_id", "verdict"),
    [
        # 12.5 kA of 10/350 brings 40,000 A²s; an 80 A gG melts at 16,000.
        ("cottage", "spd.fuse_ahead", "supply", Verdict.ADVISE),
        # No breaker of its own: the cut-out is all there is.
        ("cottage", "spd.failure", "spd", Verdict.ADVISE),
        # Half a cycle of 1.24 kA is 15,000 A²s; a 100 A gG bears 27,000.
        ("semi", "spd.failure", "spd", Verdict.PASS),
        # 30 kA of 8/20 brings 12,600 A²s; a 63 A gG melts at 9,000.
        ("flat", "spd.fuse_ahead", "submain", Verdict.ADVISE),
        # 20 kA lies under the bound of a 100 A gG, and nobody tested it: a bound is no answer.
        ("three-phase", "spd.fuse_ahead", "supply", Verdict.UNKNOWN),
        # 6.5 kA for half a cycle is fifteen times what may melt the cut-out.
        ("three-phase", "spd.failure", "spd", Verdict.ADVISE),
    ],
)
def test_the_example_homes(name: str, check: str, subject_id: str, verdict: Verdict) -> None:
    """Worked by hand with IEC 61643-12's k and IEC 60269-1's table, both from memory."""
    found = [f for f in example(name).findings if (f.check, f.subject_id) == (check, subject_id)]

    assert [finding.verdict for finding in found] == [verdict]
