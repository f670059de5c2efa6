"""The SPD's checks over a whole design: need, place, connections, fuse ahead, distance."""

from dataclasses import replace

import pytest

from boardwright.board.results import Role, Scheme
from boardwright.core.findings import Verdict
from boardwright.job.job import Job
from boardwright.verification.check import all_checks
from boardwright.verification.spd import (
    connections_thick_enough,
    decline_stands,
    needed,
    risk_level_shown,
    suits,
)
from boardwright.verification.spd_place import (
    ahead_of_rcds,
    equipment_in_reach,
    insulation_reading_doubtful,
    insulation_readings_count,
    second_spd,
)
from boardwright.verification.spd_withstand import home_fuse_carries_the_surge
from tests.spd.samples import SITE, home, home_with
from tests.verification.spd_samples import choice, conductor, facts, items, one

ASKED = {"injury_possible": "no", "large_loss_possible": "no"}
MAIN = ("main-switch", Role.MAIN_SWITCH, "ravel-ms-100")
SPD = ("spd", Role.SPD, "ravel-spd-t2")
BACKUP = ("spd-backup", Role.SPD_BACKUP, "ravel-mcb-c32")
TAIL = conductor(("meter.L", "main-switch.L-in"), "L", 25)
LINK = conductor(("spd-backup.L-out", "spd.L"), "L", 4)


def _changed(job: Job, **parts: object) -> Job:
    return Job.model_validate(job.model_dump() | parts)


def _with_circuit(**fields: object) -> Job:
    job = home(**ASKED)
    circuit = job.circuits[0].model_dump() | fields
    return _changed(job, circuits=[circuit])


def test_the_checks_are_found_by_their_mark() -> None:
    found = {check.__name__ for check in all_checks()}

    assert {"needed", "leads_short", "ahead_of_rcds", "second_spd"} <= found


@pytest.mark.parametrize(
    ("environment", "verdict"),
    [
        (ASKED, Verdict.PASS),
        ({"injury_possible": "yes"}, Verdict.PASS),
        (ASKED | {"declined_by": "owner"}, Verdict.ADVISE),
        ({"declined_by": "owner"}, Verdict.UNKNOWN),
        (ASKED | {"declined_by": "tenant"}, Verdict.PASS),
    ],
)
def test_need(environment: dict[str, str], verdict: Verdict) -> None:
    job = home(**environment)

    assert one(needed, facts(job, choice(job))).verdict is verdict


def test_needed_and_nothing_suits_fails() -> None:
    job = home(**ASKED)
    found = one(needed, facts(job, choice(job, replace(SITE, ipf_a=60_000))))

    assert found.verdict is Verdict.FAIL
    assert "Nearest" in found.message


@pytest.mark.parametrize(
    ("environment", "verdict"),
    [
        ({"declined_by": "owner"}, Verdict.PASS),
        ({"declined_by": "tenant"}, Verdict.ADVISE),
        ({"declined_by": "owner", "injury_possible": "yes"}, Verdict.ADVISE),
    ],
)
def test_who_may_decline(environment: dict[str, str], verdict: Verdict) -> None:
    job = home(**environment)

    assert one(decline_stands, facts(job, choice(job))).verdict is verdict
    assert not list(decline_stands(facts(home(), choice(home()))))


def test_the_risk_level_decides_nothing() -> None:
    job = home(ng_per_km2_year=1, lv_overhead_m=400, hv_overhead_m=600)
    job = _changed(
        job,
        surge_environment=job.surge_environment.model_dump()
        | {"lv_underground_m": 0, "hv_underground_m": 0},
    )

    found = one(risk_level_shown, facts(job, choice(job)))

    assert (found.verdict, found.limit) == (Verdict.NOT_APPLICABLE, 1000)
    assert found.value == pytest.approx(81.73, abs=0.005)


def test_the_chosen_spd_s_ratings_are_findings() -> None:
    job = home()

    checks = {finding.check for finding in suits(facts(job, choice(job)))}

    assert {"spd.uc", "spd.up", "spd.in", "spd.short_circuit", "spd.backup"} <= checks


@pytest.mark.parametrize(
    ("line_mm2", "pe_mm2", "verdicts"),
    [
        (4, 6, [Verdict.PASS, Verdict.PASS]),
        (2.5, 6, [Verdict.FAIL, Verdict.PASS]),
        (4, 4, [Verdict.PASS, Verdict.FAIL]),
    ],
)
def test_connections(line_mm2: float, pe_mm2: float, verdicts: list[Verdict]) -> None:
    """Common practice, no source: 4 mm² behind a 32 A MCB; 6 mm² to earth (534.4.10)."""
    job = home()
    wired = (
        conductor(("spd-backup.L-out", "spd.L"), "L", line_mm2),
        conductor(("spd.PE", "earth-bar.1"), "PE", pe_mm2),
        conductor(("way-ring.L-out", "cable-ring.L"), "L", 1.0),
    )

    found = connections_thick_enough(facts(job, choice(job), conductors=wired))

    assert [finding.verdict for finding in found] == verdicts


def test_a_type_1_with_10_mm2_to_earth_is_refused() -> None:
    job = home(external_lps="III")
    wired = (conductor(("spd.PE", "earth-bar.1"), "PE", 10),)

    found = one(connections_thick_enough, facts(job, choice(job), conductors=wired))

    assert (found.verdict, found.limit) == (Verdict.FAIL, 16)


def test_a_house_fuse_may_open_before_the_spd_is_at_its_limit() -> None:
    """60 A: 25.3 kA of 8/20 as an upper bound, below 40 kA; 100 A: 43.9 kA, above."""
    small, large = (home_with({"cutout_fuse_a": fuse_a}) for fuse_a in (60, 100))

    found = one(home_fuse_carries_the_surge, facts(small, choice(small)))

    assert (found.verdict, found.value) == (Verdict.ADVISE, 40_000)
    assert one(home_fuse_carries_the_surge, facts(large, choice(large))).value is None


def test_a_type_1_s_long_surge_exceeds_a_100_a_fuse() -> None:
    job = home(external_lps="III")

    found = one(home_fuse_carries_the_surge, facts(job, choice(job)))

    assert "10/350" in found.message
    assert found.limit == pytest.approx(10_264, abs=1)


def test_tapped_at_the_main_switch_is_ahead_of_the_rcds() -> None:
    job = home()
    board = items(MAIN, SPD, BACKUP, ("rcd-a", Role.SECTION_RCD, "ravel-rccb-63"))
    wired = (
        TAIL,
        LINK,
        conductor(("main-switch.L-out", "spd-backup.L-in"), "L"),
        conductor(("main-switch.L-out", "rcd-a.L-in"), "L"),
    )

    found = one(ahead_of_rcds, facts(job, choice(job), arrangement=board, conductors=wired))

    assert found.verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("rcd", "verdict"), [("ravel-rccb-63", Verdict.FAIL), ("ravel-rccb-s-100", Verdict.ADVISE)]
)
def test_tapped_behind_an_rcd(rcd: str, verdict: Verdict) -> None:
    job = home()
    board = items(MAIN, SPD, BACKUP, ("incomer-rcd", Role.INCOMER_RCD, rcd))
    wired = (
        TAIL,
        LINK,
        conductor(("main-switch.L-out", "incomer-rcd.L-in"), "L"),
        conductor(("incomer-rcd.L-out", "spd-backup.L-in"), "L"),
    )

    found = one(ahead_of_rcds, facts(job, choice(job), arrangement=board, conductors=wired))

    assert found.verdict is verdict
    assert "incomer-rcd" in found.message


def test_a_box_beside_the_board_does_not_show_its_tap() -> None:
    job = home()
    box = items(SPD, BACKUP, scheme=Scheme.SEPARATE_BOX)
    wired = (LINK, conductor(("board.L", "spd-backup.L-in"), "L"))

    found = one(ahead_of_rcds, facts(job, choice(job), arrangement=box, conductors=wired))

    assert found.verdict is Verdict.UNKNOWN


def test_equipment_beyond_ten_metres_is_named() -> None:
    near = {"id": "tv", "kind": "television", "position_m": 9}
    far = {"id": "pc", "kind": "computer", "position_m": 14}
    unseen = {"id": "box", "kind": "router", "study": False}

    both = _with_circuit(appliances=[near, far, unseen])
    only_near = _with_circuit(appliances=[near])
    found = one(equipment_in_reach, facts(both, choice(both)))

    assert (found.verdict, found.value) == (Verdict.ADVISE, 14)
    assert "1 of 2" in found.message
    assert "pc on Ring (14 m)" in found.message
    assert one(equipment_in_reach, facts(only_near, choice(only_near))).verdict is Verdict.PASS


def test_equipment_of_unknown_place_is_taken_at_the_far_end() -> None:
    job = _with_circuit(appliances=[{"id": "pc", "kind": "computer"}])

    assert one(equipment_in_reach, facts(job, choice(job))).value == 20


@pytest.mark.parametrize(("length_m", "count"), [(10, 0), (22, 1)])
def test_a_long_distribution_circuit_is_told(length_m: float, count: int) -> None:
    submain = {"fuse_a": 63, "cable": "swa 90", "line_mm2": 25, "cpc_mm2": 10}
    job = home_with({"submain": submain | {"length_m": length_m}})

    assert len(list(second_spd(facts(job, choice(job))))) == count


@pytest.mark.parametrize(
    "fields", [{"serves": "sub-board"}, {"serves": "PV", "source": {"power_w": 3680}}]
)
def test_a_far_sub_board_or_inverter_wants_a_second(fields: dict[str, object]) -> None:
    job = _with_circuit(**fields)

    found = one(second_spd, facts(job, choice(job)))

    assert (found.verdict, found.subject_id) == (Verdict.ADVISE, "ring")


@pytest.mark.parametrize(
    ("test_v", "reading_mohm", "doubtful"),
    [(500, 0.3, True), (250, 0.3, False), (500, 200, False), (250, 1.0, False)],
)
def test_a_low_reading_with_the_spd_in_is_the_spd_s(
    test_v: float,
    reading_mohm: float,
    doubtful: bool,  # noqa: FBT001 - a column of the table above
) -> None:
    """Magazine of a trade body, 2021: about 0.3 MΩ seen at 500 V; 250 V and 1 MΩ by 643.3.3."""
    found = insulation_reading_doubtful(
        reading_mohm, least_mohm=1.0, test_v=test_v, sensitive_v=250
    )

    assert found is doubtful


def test_a_reading_is_doubted_only_where_an_spd_was_on_the_board() -> None:
    job = _with_circuit(readings={"insulation_mohm": 0.3, "insulation_test_v": 500})
    board = {"ways": 6, "devices": [{"way": 1, "kind": "SPD"}]}
    with_spd = _changed(job, existing_board=board)

    found = one(insulation_readings_count, facts(with_spd, choice(with_spd)))

    assert (found.verdict, found.subject_id) == (Verdict.UNKNOWN, "ring")
    assert not list(insulation_readings_count(facts(job, choice(job))))
