"""Which schemes stay open, and which enclosure comes first."""

import pytest

from boardwright.board.offer import offers, out_of_question, schemes, wished
from boardwright.board.results import Scheme
from boardwright.core.errors import FieldError
from boardwright.job.board import ExistingBoard, ExistingDevice
from tests.board.boards import catalogue
from tests.board.homes import home, wishing, with_board

HALF_FULL = ExistingBoard(
    maker="Ravel",
    family="ravel-r1",
    ways=10,
    hand="left",
    main_switch_poles=2,
    devices=tuple(
        ExistingDevice(way=way, kind="MCB", in_a=16, curve="B") for way in (1, 2, 3, 5, 6)
    ),
)


def test_a_wish_for_a_new_board_still_lays_out_what_else_there_is() -> None:
    job = home("semi")

    possible = schemes(job, catalogue())

    assert possible == (Scheme.NEW_BOARD, Scheme.SEPARATE_BOX)
    assert wished(job, possible) == (Scheme.NEW_BOARD,)
    assert [scheme for scheme, _ in out_of_question(job, catalogue())] == [Scheme.SPARE_WAYS]


def test_a_home_with_no_board_yet_has_one_scheme_and_none_out_of_the_question() -> None:
    job = with_board(home("semi"), None)

    assert schemes(job, catalogue()) == (Scheme.NEW_BOARD,)
    assert out_of_question(job, catalogue()) == ()


def test_declined_surge_protection_hangs_no_box_and_keeps_a_board_that_can_be_kept() -> None:
    job = wishing(with_board(home("cottage"), HALF_FULL), board="keep")

    possible = schemes(job, catalogue(), declined=True)

    assert possible == (Scheme.NEW_BOARD, Scheme.SPARE_WAYS)
    assert wished(job, possible) == (Scheme.SPARE_WAYS,)
    ((scheme, reason),) = out_of_question(job, catalogue(), declined=True)
    assert scheme is Scheme.SEPARATE_BOX
    assert "nothing to put into a box" in reason


def test_a_full_board_leaves_a_box_or_a_new_board_and_says_why() -> None:
    job = home("cottage")

    assert schemes(job, catalogue()) == (Scheme.NEW_BOARD, Scheme.SEPARATE_BOX)
    ((scheme, reason),) = out_of_question(job, catalogue())
    assert scheme is Scheme.SPARE_WAYS
    assert "the longest free run is 0" in reason


def test_a_board_with_room_is_kept_where_that_is_wished_for() -> None:
    job = wishing(with_board(home("cottage"), HALF_FULL), board="keep")

    assert wished(job, schemes(job, catalogue())) == (Scheme.SPARE_WAYS,)
    assert offers(Scheme.SPARE_WAYS, job, catalogue())[0].id == "ravel-r1-12"


@pytest.mark.parametrize(
    ("existing", "reason"),
    [
        (HALF_FULL.model_copy(update={"family": ""}), "family is not known"),
        (HALF_FULL.model_copy(update={"family": "elder"}), "no 1-phase enclosure of family elder"),
        (HALF_FULL.model_copy(update={"ways": 11}), "with 11 ways"),
        (None, "no board as found"),
    ],
)
def test_a_board_that_nobody_vouches_for_takes_no_spd(
    existing: ExistingBoard | None, reason: str
) -> None:
    job = wishing(with_board(home("cottage"), existing), board="keep")

    assert Scheme.SPARE_WAYS not in schemes(job, catalogue())
    assert reason in dict(out_of_question(job, catalogue()))[Scheme.SPARE_WAYS]


def test_with_no_board_as_found_a_new_one_is_all_there_is() -> None:
    job = wishing(with_board(home("cottage"), None), board="keep")

    assert schemes(job, catalogue()) == (Scheme.NEW_BOARD,)


@pytest.mark.parametrize(
    ("wishes", "first"),
    [
        ({"maker": "Tarn", "hand": "either"}, "tarn-t3-22"),
        ({"hand": "right"}, "tarn-t3-22"),
        ({"hand": "left"}, "ravel-r1-18"),
        ({"hand": "left", "spare_ways": 8}, "ravel-r1-24"),
        ({"division": "split load"}, "ravel-r1-split-22"),
        ({"enclosure": "tarn-t3-12"}, "tarn-t3-12"),
    ],
)
def test_the_wishes_say_which_enclosure_comes_first(wishes: dict[str, object], first: str) -> None:
    job = wishing(home("semi"), **wishes)

    assert offers(Scheme.NEW_BOARD, job, catalogue())[0].id == first


def test_on_tt_an_insulated_incoming_side_comes_before_one_rcd_for_all() -> None:
    job = wishing(home("cottage"), hand="right")

    assert offers(Scheme.NEW_BOARD, job, catalogue())[0].class_ii_incomer


def test_no_combustible_board_is_offered_unasked() -> None:
    for name in ("semi", "cottage", "flat", "three-phase"):
        assert not any(e.combustible for e in offers(Scheme.NEW_BOARD, home(name), catalogue()))


def test_a_three_phase_home_is_offered_three_phase_boards_alone() -> None:
    offered = offers(Scheme.NEW_BOARD, home("three-phase"), catalogue())

    assert {enclosure.phases for enclosure in offered} == {3}


def test_an_enclosure_that_nobody_makes_is_named_with_its_field() -> None:
    job = wishing(home("semi"), enclosure="ravel-r9")

    with pytest.raises(FieldError, match=r"wishes\.enclosure: found 'ravel-r9', expected one of"):
        offers(Scheme.NEW_BOARD, job, catalogue())
