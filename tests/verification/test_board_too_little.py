"""What cannot be fitted is a finding with the smallest change that would fit, never a traceback."""

from dataclasses import replace

import pytest

from boardwright.board.results import Scheme
from boardwright.catalogue.catalogue import Catalogue
from boardwright.core.errors import InputErrors
from boardwright.core.findings import Finding, Verdict
from boardwright.design import design
from boardwright.job.job import Job
from boardwright.job.read import parse_job
from tests.board.boards import catalogue
from tests.board.homes import edition, home, wishing
from tests.job.homes import HOME


def _failed(job: Job, check: str, shelf: Catalogue | None = None) -> list[Finding]:
    result = design(job, shelf or catalogue(), edition())
    return [f for f in result.findings if f.check == check and f.verdict is Verdict.FAIL]


def test_more_devices_than_ways_names_the_next_larger_enclosure() -> None:
    (found,) = _failed(wishing(home("semi"), enclosure="ravel-r1-12"), "board.fits")

    assert "the devices take 16 modules, the rail has 12; 4 too many" in found.message
    assert "ravel-r1-16" in found.remedy


def test_a_rail_of_no_ways_holds_nothing_and_says_so() -> None:
    """No catalogue file may hold one; a board of it is told of all the same."""
    shelf = catalogue()
    one = shelf.enclosures["ravel-r1-18"]
    none = one.model_copy(update={"rails": (one.rails[0].model_copy(update={"modules": 0}),)})
    short = replace(shelf, enclosures={**shelf.enclosures, one.id: none})

    (found,) = _failed(wishing(home("semi"), enclosure=one.id), "board.fits", short)

    assert "the rail has 0" in found.message
    assert "Take Ravel R1" in found.remedy


def test_a_board_as_found_of_no_ways_is_refused_in_one_sentence() -> None:
    with pytest.raises(InputErrors, match=r"existing_board\.ways: found 0, expected .* from 1"):
        parse_job(HOME.replace("ways: 6", "ways: 0"), "home.yaml")


def test_an_spd_that_no_family_permits_hangs_in_a_box_of_its_own() -> None:
    shelf = catalogue()
    boards = {e.family for e in shelf.enclosures.values() if e.purpose == "consumer unit"}
    devices = {
        key: device.model_copy(
            update={"permitted_families": tuple(set(device.permitted_families) - boards)}
        )
        if device.spd
        else device
        for key, device in shelf.devices.items()
    }

    (found,) = _failed(home("semi"), "board.fits", replace(shelf, devices=devices))

    assert "its maker allows none in" in found.message
    assert "a box of its own" in found.remedy


def test_an_overfilled_terminal_names_what_would_take_it() -> None:
    job = home("semi")
    shower = job.circuits[0]
    thick = shower.model_copy(update={"cable": shower.cable.model_copy(update={"line_mm2": 25.0})})

    found = _failed(job.model_copy(update={"circuits": (thick, *job.circuits[1:])}),
                    "wiring.terminal_capacity")  # fmt: skip

    assert {f.value for f in found} == {25.0}
    assert all(f.limit is not None and f.limit < 25 for f in found)
    assert all("connection block" in f.remedy or "terminals take 25" in f.remedy for f in found)


def test_a_box_is_laid_out_beside_the_board_that_has_no_room() -> None:
    result = design(wishing(home("semi"), enclosure="ravel-r1-12"), catalogue(), edition())

    assert Scheme.SEPARATE_BOX in {variant.scheme for variant in result.variants}
