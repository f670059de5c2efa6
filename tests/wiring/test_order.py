"""The order of work: what must hold whatever the order."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardwright.board.results import Arrangement
from boardwright.wiring.order import may_energise
from boardwright.wiring.results import Phase, Step
from boardwright.wiring.words import proof_pairs
from tests.wiring.boards import Home, beside, delayed, picture, spare_ways, split, wired

BOARDS = {
    "picture": picture(),
    "split": split(),
    "delayed": delayed(),
    "beside": beside(),
    "spare ways": spare_ways(2),
}
STEPS = wired(picture(3)).steps
IDS = [step.id for step in STEPS]


def before(name: str, steps: tuple[Step, ...]) -> set[str]:
    """Return all that a step waits for."""
    needs = {step.id: step.needs for step in steps}
    found: set[str] = set()
    waiting = [name]
    while waiting:
        for need in needs[waiting.pop()]:
            if need not in found:
                found.add(need)
                waiting.append(need)
    return found


def steps_of(board: Arrangement, home: Home | None = None) -> tuple[Step, ...]:
    return wired(board, home).steps


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_every_step_stands_after_all_it_needs(board: Arrangement) -> None:
    steps = steps_of(board)
    number = {step.id: step.number for step in steps}

    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    assert len(number) == len(steps)
    for step in steps:
        assert all(number[need] < step.number for need in step.needs), step.id


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_nothing_is_energised_before_the_earth_the_tests_and_the_covers(board: Arrangement) -> None:
    steps = steps_of(board)
    earth = {"wire-earth-earthing", "earth-seen"} & {step.id for step in steps}
    dead = {step.id for step in steps if step.phase is Phase.DEAD_TESTS}

    assert earth
    for step in steps:
        if step.phase is Phase.ENERGISE:
            waited = before(step.id, steps) | {step.id}
            assert earth | dead | {"cover"} <= waited, step.id
            assert {"prove-tester", "prove-dead", "prove-again"} <= waited, step.id


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_no_wire_is_touched_before_the_board_is_proved_dead(board: Arrangement) -> None:
    """Prove, test, prove: safe isolation, circuits.md section 6 (GS38)."""
    steps = steps_of(board)

    for step in steps:
        if step.phase in (Phase.REMOVE, Phase.MOUNT, Phase.WIRE, Phase.DEAD_TESTS):
            assert "prove-again" in before(step.id, steps), step.id
            assert not step.live, step.id
            assert step.caution, step.id


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
def test_insulation_is_measured_with_the_spd_apart(board: Arrangement) -> None:
    """At 500 V the SPD conducts and the reading is false: trade guidance, circuits.md section 6."""
    steps = steps_of(board)
    dead = [s for s in steps if s.phase is Phase.DEAD_TESTS and s.id != "spd-off"]
    measured = [s for s in dead if "500 V" in s.title + s.text]

    assert measured
    for step in measured:
        assert "spd-off" in before(step.id, steps)
        assert step.id in before("spd-on", steps)
    assert "spd-on" in before("cover", steps)


def test_dead_tests_come_before_the_covers() -> None:
    assert {n for n in IDS if n.startswith("dead-")} <= before("cover", STEPS)


def test_every_set_is_marked_before_the_old_board_goes() -> None:
    mark = next(step for step in STEPS if step.id == "mark")

    assert "mark" in before("remove", STEPS)
    assert all(name in mark.text for name in ("C0", "C1", "C2"))


def test_every_new_conductor_is_joined_in_exactly_one_step() -> None:
    wiring = wired(picture(3))
    made = [name for step in wiring.steps for name in step.conductors]

    assert sorted(made) == sorted(c.id for c in wiring.conductors)
    assert all(c.step for c in wiring.conductors)


def test_on_a_board_as_found_only_the_spd_is_wired() -> None:
    made = {name for step in steps_of(BOARDS["spare ways"]) for name in step.conductors}

    assert made == {"spd-l", "spd-n", "spd-pe", "busbar"}


def test_a_new_circuit_on_a_board_as_found_is_wired_and_tested() -> None:
    steps = steps_of(spare_ways(2, new=1))
    made = {name for step in steps for name in step.conductors}

    assert {"x-c1-l", "x-c1-pe"} <= made
    assert not {"x-c0-l", "x-c0-pe"} & made
    assert {"dead-circuit-c1", "live-circuit-c1"} <= {step.id for step in steps}
    assert "dead-circuit-c0" not in {step.id for step in steps}


@given(st.sets(st.sampled_from(IDS)))
def test_energising_is_blocked_while_the_earth_is_apart(done: set[str]) -> None:
    allowed, why = may_energise(done - {"wire-earth-earthing"}, STEPS)

    assert not allowed
    assert "earthing conductor" in why


def test_energising_is_allowed_when_all_before_it_is_done_and_not_one_less() -> None:
    needed = before("energise-incomer", STEPS)

    assert may_energise(needed, STEPS) == (True, "All that must come before is done.")
    for name in needed - {"wire-earth-earthing"}:
        allowed, why = may_energise(needed - {name}, STEPS)
        assert not allowed
        assert "open" in why


def test_proving_dead_takes_3_tests_on_one_phase_and_10_on_three() -> None:
    """L-N, L-E, N-E; three-phase 10: circuits.md section 6, from the guides to GS38."""
    assert len(proof_pairs(1)) == 3
    assert len(proof_pairs(3)) == 10


@pytest.mark.parametrize(
    ("isolation", "step", "words"),
    [
        ("isolator", "isolate-isolator", "You may do this yourself"),
        ("supplier", "isolate-supplier", "Only the supplier"),
        ("network operator", "isolate-operator", "Only the network operator"),
        ("landlord", "isolate-landlord", "switch-fuse"),
        ("none", "isolate-unsettled", "no lawful point"),
    ],
)
def test_who_isolates_is_said(isolation: str, step: str, words: str) -> None:
    steps = {s.id: s for s in steps_of(picture(1), Home(isolation=isolation))}

    assert words in steps[step].text
    assert len([name for name in steps if name.startswith("isolate-")]) == 1


def test_other_sources_are_isolated_too_and_noticed() -> None:
    steps = {s.id: s for s in steps_of(picture(1), Home(source=True))}

    assert "isolate-sources" in before("prove-tester", tuple(steps.values()))
    assert "PV" in steps["stays-live"].text
    assert "Dual-supply" in steps["labels"].text


@pytest.mark.parametrize("country", ["England", "Wales", "Scotland", "Northern Ireland"])
def test_notification_follows_the_country(country: str) -> None:
    steps = [s for s in steps_of(picture(1), Home(country=country)) if s.id.startswith("notify-")]

    (step,) = steps
    assert country in step.title + step.text


def test_a_ring_gets_the_ring_test() -> None:
    steps = {s.id: s for s in steps_of(picture(2), Home(rings=frozenset({"c1"})))}

    assert "ring" in steps["dead-circuit-c1"].text
    assert "ring" not in steps["dead-circuit-c0"].text


def test_no_place_in_a_text_stays_unfilled_and_nothing_is_called_safe() -> None:
    for board in BOARDS.values():
        for step in steps_of(board):
            assert "{" not in step.title + step.text, step.id
            assert "safe" not in (step.title + step.text + step.caution).lower(), step.id


def test_a_step_that_makes_terminals_says_tool_torque_and_check() -> None:
    """The torques are those of the catalogue's terminals, each named with its terminal."""
    wiring = wired(BOARDS["split"])
    by_id = {conductor.id: conductor for conductor in wiring.conductors}
    making = [step for step in wiring.steps if step.conductors]

    assert making
    for step in making:
        ends = [end for name in step.conductors for end in (by_id[name].begin, by_id[name].end)]
        for end in (end for end in ends if end.torque_nm is not None):
            assert f"{end.torque_nm:.1f} N·m" in step.torque
            assert end.label in step.torque
        assert step.tool
        assert step.check
    assert not any(step.torque for step in wiring.steps if not step.conductors)
