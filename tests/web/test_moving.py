"""A device moved on the page: judged, wired and checked at once, saved only when it is kept."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from boardwright.board.legal import faults
from boardwright.core.errors import FieldError
from boardwright.job.edit import Edit
from boardwright.store.records import Stamp
from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.moving import moving_view
from boardwright.web.working import moving
from boardwright.wiring.wire import wire
from tests.web.client import Client, headings, words
from tests.web.conftest import homes_of

SAME_SITE = {"sec-fetch-site": "same-origin"}


@pytest.fixture
def own(folder: Path) -> Jobs:
    return homes_of(folder)


@pytest.fixture
def page(own: Jobs) -> Client:
    return Client(create_app(own))


def test_a_moved_device_is_wired_anew_and_everything_else_is_as_designed(jobs: Jobs) -> None:
    saved = jobs.design("semi")

    tried = moving.tried(saved, moving.read(["spd-backup:6"]))

    chosen = tried.design.chosen
    assert (tried.faults, tried.ways) == ((), {"spd": 6})
    assert faults(chosen.arrangement) == ()
    # The wiring is the program's own of that order, not the old one with a figure changed.
    assert chosen.wiring == wire(chosen.arrangement, saved.job, chosen.spd, saved.edition)
    assert chosen.study == saved.chosen.study
    assert saved.chosen.arrangement.placement("spd-backup").way == 1


def test_no_move_changes_nothing(jobs: Jobs) -> None:
    saved = jobs.design("semi")

    tried = moving.tried(saved, ())

    assert [f for f in tried.design.findings if f not in saved.findings] == []
    view = moving_view(saved, tried)
    assert (view.said, view.opened, view.closed) == ("", (), ())
    assert not any(figure.moved for figure in view.figures)


def test_a_move_that_no_rule_allows_says_why_and_leaves_the_board(page: Client) -> None:
    before = page.get("/jobs/semi/board").text

    text = page.get("/jobs/semi/board?move=way-cooker:2").text

    assert "Cooker cannot stand on way 2." in words(text)
    assert "SPD does not stand beside its back-up" in words(text)
    assert 'id="keep-moves"' not in text
    assert headings(text) == headings(before)


def test_the_plain_form_tries_a_move(page: Client) -> None:
    answer = page.get("/jobs/semi/board?move=way-cooker:6&device=way-boiler&to=4")

    assert answer.headers["location"] == (
        "/jobs/semi/board?move=way-cooker%3A6&move=way-boiler%3A4#drawing"
    )
    assert "Boiler on way 4, tried and not saved." in words(
        page.get("/jobs/semi/board?move=way-boiler:4").text
    )


def test_a_move_is_kept_as_the_person_s_way_and_taken_back(page: Client, own: Jobs) -> None:
    page.post("/jobs/semi/board", {"base": "1", "way": "boiler:4"}, SAME_SITE)

    assert own.load("semi").wishes.ways == {"boiler": 4}
    assert own.design("semi").chosen.arrangement.placement("way-boiler").way == 4
    assert own.store.latest("semi").change.stamp.why == "placed: boiler on way 4"

    page.post("/jobs/semi/board", {"base": "2", "way": "none"}, SAME_SITE)
    assert own.load("semi").wishes.ways == {}


@pytest.mark.parametrize("line", ["way-cooker", "way-cooker:", ":4", "way-cooker:far", "a:9999"])
def test_an_address_that_says_no_move_is_refused(line: str) -> None:
    with pytest.raises(FieldError):
        moving.read([line])


def test_a_device_that_is_not_there_is_told_in_a_sentence(page: Client) -> None:
    answer = page.get("/jobs/semi/board?move=way-nobody:3")

    assert answer.status_code == 422
    assert "a device on the rail" in words(answer.text)


def test_other_lengths_are_answered_as_json(page: Client) -> None:
    short = json.loads(page.get("/api/jobs/semi/surge/try?lead_m=0.2").text)
    long = json.loads(page.get("/api/jobs/semi/surge/try?lead_m=2").text)

    assert short["places"][0]["place"] == "board"
    # About 1 kV for each metre of lead at the steepest (IEC 62305-4, from memory): here the band
    # of the board must rise, and by no more than that for 1.8 m.
    risen_v = long["places"][0]["p95_v"] - short["places"][0]["p95_v"]
    assert 0 < risen_v <= 1.8 * 1000 * 2
    assert page.get("/api/jobs/semi/surge/try?lead_m=-1").status_code == 422


@pytest.mark.parametrize(
    ("path", "form"),
    [
        ("/jobs/semi/board", {"way": "boiler:10"}),
        ("/jobs/semi/weigh", {"line": "wishes.ways.boiler=10"}),
    ],
)
def test_where_both_texts_had_to_be_kept_the_choice_is_shown(
    own: Jobs, page: Client, path: str, form: dict[str, str]
) -> None:
    stamp = Stamp("Ann, phone", "placed by hand", own.now())
    own.change("semi", [Edit("wishes.ways.boiler", "9")], base=1, stamp=stamp)

    answer = page.post(path, {"base": "1", **form})

    assert answer.headers["location"] == "/jobs/semi/versions"
    assert page.get(answer.headers["location"]).status_code == 200
