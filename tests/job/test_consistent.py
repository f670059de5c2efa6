"""Fields of a job that contradict one another, and those that only make a bad installation."""

import pytest

from boardwright.job.consistent import CONSIDERED_LINE_M
from boardwright.job.read import parse_job
from tests.job.homes import HOME, line, said, spoilt

RING = "{line_mm2: 2.5, cpc_mm2: 1.5, length_m: 55, method: 100}"
TV = "- {id: tv, kind: television, position_m: 20}"
SHOWER = "serves: shower\n    way: 4\n"


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            "- id: shower",
            "- id: ring",
            (
                "circuits.#2.id: found 'ring', expected an id that nothing else of its kind has."
                " Give it one of its own."
            ),
        ),
        (
            TV,
            f"{TV}\n      - {{id: tv, kind: kettle}}",
            "circuits.ring.appliances.#2.id: found 'tv', expected an id that nothing else",
        ),
        (
            "way: 4",
            "way: 7",
            "circuits.shower.way: found 7, expected a way from 1 to 6, as the board found has.",
        ),
        (
            "way: 4",
            "way: 1",
            "circuits.shower.way: found 1, expected a way of its own: 'ring' is on way 1.",
        ),
        (
            "{way: 2, modules: 2,",
            "{way: 6, modules: 2,",
            (
                "existing_board.devices.6.way: found ways 6 to 7, expected ways from 1 to 6,"
                " as the board has."
            ),
        ),
        (
            "{way: 2, modules: 2,",
            "{way: 1, modules: 2,",
            (
                "existing_board.devices.#2.way: found ways 1 to 2, expected ways of its own:"
                " way 1 holds the MCB that starts at way 1."
            ),
        ),
        (
            "circuit: ring}",
            "circuit: rings}",
            (
                "existing_board.devices.1.circuit: found 'rings', expected the id of a circuit."
                " Did you mean 'ring'?"
            ),
        ),
        (
            TV,
            f"{TV}\n    readings: {{shares_neutral_with: landing}}",
            (
                "circuits.ring.readings.shares_neutral_with: found 'landing', expected the id of a"
                " circuit. There are: ring, shower."
            ),
        ),
        (
            TV,
            f"{TV}\n    readings: {{shares_neutral_with: ring}}",
            "found 'ring', expected the id of another circuit.",
        ),
        (
            "{board: compare}",
            "{keep_together: [[ring, shwer]]}",
            (
                "wishes.keep_together.#1.#2: found 'shwer', expected the id of a circuit."
                " Did you mean 'shower'?"
            ),
        ),
        (
            "{board: compare}",
            "{keep_apart: [[rung, shower]]}",
            "wishes.keep_apart.#1.#1: found 'rung', expected the id of a circuit.",
        ),
        (
            "way: 4",
            "phases: 3",
            (
                "circuits.shower.phases: found 3, expected 1, as the supply has one phase."
                " If the supply has three phases, write supply.phases: 3."
            ),
        ),
        (
            "way: 4",
            "phase: L2",
            "circuits.shower.phase: found 'L2', expected L1 or nothing, as the supply has one",
        ),
        (
            "position_m: 20",
            "position_m: 55.5",
            (
                "circuits.ring.appliances.tv.position_m: found 55.5, expected a place along the"
                " cable, at most its length of 55 m."
            ),
        ),
        (
            "way: 4",
            "ev: {dc_detection: yes}",
            (
                "circuits.shower.ev: found an EV point on a circuit that serves 'shower',"
                " expected serves: EV point."
            ),
        ),
        (
            "way: 4",
            "source: {power_w: 3600}",
            (
                "circuits.shower.source: found a source on a circuit that serves 'shower',"
                " expected serves: PV or serves: battery."
            ),
        ),
        (
            "[circuits.ring.cable.length_m]",
            "[circuits.ring.cable.lenght_m]",
            "assumed.#1: found 'circuits.ring.cable.lenght_m', expected the dotted path of a field",
        ),
        (
            "[circuits.ring.cable.length_m]",
            "[circuits.cooker.cable]",
            "assumed.#1: found 'circuits.cooker.cable', expected the dotted path of a field",
        ),
    ],
)
def test_a_contradiction_is_named_at_its_line(old: str, new: str, sentence: str) -> None:
    text = spoilt(old, new)
    changed = line(HOME, old) + new.count("\n")

    assert f"home.yaml, line {changed}: " in said(text)
    assert sentence in said(text)


def test_keeping_or_comparing_needs_a_board_to_keep() -> None:
    text = HOME[: HOME.index("existing_board:")] + HOME[HOME.index("circuits:\n") :]

    assert "wishes.board: found 'compare', expected 'new', as there is no section" in said(text)
    assert parse_job(text.replace("compare", "new"), "x").existing_board is None


def test_a_logged_demand_needs_its_source() -> None:
    text = HOME + "demand_logged_a: 48\n"

    assert "demand_logged_source: found nothing, expected who logged demand_logged_a" in said(text)
    assert parse_job(text + "demand_logged_source: clamp, two weeks\n", "x").demand_logged_a == 48


def test_lines_are_counted_to_1_km_in_all() -> None:
    """BS 7671:2018, 443.5, by a network operator's answers on risk assessment: 1 km in total."""
    assert CONSIDERED_LINE_M == 1000
    just = spoilt("lv_overhead_m: 400", "lv_overhead_m: 400\n  hv_underground_m: 600")

    assert parse_job(just, "x").surge_environment.hv_underground_m == 600
    assert (
        "surge_environment: found lines of 1001 m in total, expected at most 1000 m, LV and HV"
        in said(just.replace("600", "601"))
    )


def test_the_main_switch_stands_on_no_way() -> None:
    text = spoilt("      devices:\n".lstrip(" "), "devices:\n    - {way: 1, kind: main switch}\n")

    board = parse_job(text, "x").existing_board
    assert board is not None
    assert len(board.devices) == 3


def test_three_phases_take_every_phase() -> None:
    text = spoilt("system: TN-C-S", "system: TN-C-S\n  phases: 3").replace("way: 4", "phase: L3")

    assert parse_job(text, "x").circuit("shower").phase == "L3"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (RING, RING.replace("2.5", "1.5")),  # a ring on a cable too thin for one
        (SHOWER, f"{SHOWER}    wanted: {{rcd_type: AC, in_a: 63}}\n"),
        ("cpc_mm2: 4\n", "cpc_mm2: 0\n"),
        ("means_present: yes", "means_present: no"),
    ],
)
def test_a_bad_installation_is_no_error(old: str, new: str) -> None:
    assert parse_job(spoilt(old, new), "x").id == "home"


def test_all_contradictions_come_at_once() -> None:
    text = HOME.replace("way: 4", "way: 9").replace("position_m: 20", "position_m: 60")

    assert len(said(text).splitlines()) == 2
