"""The circuits without script: each row leads to a form that changes, adds, moves and removes."""

from __future__ import annotations

from pathlib import Path

import httpx
import pytest

from boardwright.web.app import create_app
from boardwright.web.forms.circuit_edits import moving
from boardwright.web.homes.jobs import Jobs
from tests.web.client import Client, words
from tests.web.conftest import homes_of

LIST = "/jobs/semi/design/circuits"


@pytest.fixture
def own(folder: Path) -> Jobs:
    return homes_of(folder)


class Tab(Client):
    """A client that says, as every browser does, that the form is of the page it opened."""

    def post(
        self, path: str, form: dict[str, str], headers: dict[str, str] | None = None
    ) -> httpx.Response:
        return super().post(path, form, {"sec-fetch-site": "same-origin", **(headers or {})})


@pytest.fixture
def page(own: Jobs) -> Client:
    return Tab(create_app(own))


def ids(jobs: Jobs) -> list[str]:
    return [circuit.id for circuit in jobs.load("semi").circuits]


def test_a_form_saves_only_what_differs(page: Client, own: Jobs) -> None:
    before = own.load("semi")

    answer = page.post(f"{LIST}/shower", {"base": "1", "length": " 17.5", "method": "C"})

    after = own.load("semi")
    assert (answer.status_code, answer.headers["location"]) == (303, "/jobs/semi/design#circuits")
    assert (after.circuit("shower").cable.length_m, after.circuit("shower").cable.method) == (
        17.5,
        "C",
    )
    assert after.circuit("shower").load == before.circuit("shower").load
    assert own.store.latest("semi").change.stamp.why == "Shower"


def test_a_form_that_changes_nothing_makes_no_version(page: Client, own: Jobs) -> None:
    page.post(f"{LIST}/shower", {"base": "1", "length": "15", "name": "Shower"})

    assert own.version("semi").number == 1


def test_what_is_refused_stays_in_its_field_with_the_reason(page: Client, own: Jobs) -> None:
    answer = page.post(f"{LIST}/shower", {"base": "1", "length": "far", "line": "16"})

    assert answer.status_code == 422
    assert 'value="far" inputmode="decimal" aria-invalid="true"' in answer.text
    assert 'value="16"' in answer.text
    assert "expected a number over 0 and at most 500 (m)" in words(answer.text)
    assert own.version("semi").number == 1


def test_a_circuit_is_added_with_an_id_of_its_own(page: Client, own: Jobs) -> None:
    new = {"base": "1", "name": "Cooker", "serves": "cooker", "line": "6", "cpc": "2.5"}

    page.post(LIST, {**new, "length": "12"})

    added = own.load("semi").circuits[-1]
    assert (added.id, added.name, added.cable.length_m, added.existing) == (
        "cooker-2",
        "Cooker",
        12,
        False,
    )


def test_a_circuit_without_its_cable_is_refused_in_a_sentence(page: Client, own: Jobs) -> None:
    answer = page.post(LIST, {"base": "1", "name": "Hob", "serves": "cooker", "line": "6"})

    assert answer.status_code == 422
    assert "Length: enter a number over 0" in words(answer.text)
    assert own.version("semi").number == 1


def test_a_circuit_goes_with_all_that_names_it(page: Client, own: Jobs) -> None:
    page.post(f"{LIST}/cooker/remove", {"base": "1"})

    job = own.load("semi")
    assert "cooker" not in ids(own)
    assert job.existing_board is not None
    # The fuse stays on the board as found: it only feeds nothing that is known.
    assert [d.circuit for d in job.existing_board.devices][:2] == [None, "kitchen-ring"]


def test_a_circuit_moves_in_the_list_and_comments_and_what_is_assumed_stay(
    page: Client, own: Jobs
) -> None:
    before, assumed = own.version("semi").text, own.load("semi").assumed

    page.post(f"{LIST}/cooker/move", {"base": "1", "by": "2"})

    assert ids(own)[:4] == ["shower", "kitchen-ring", "down-ring", "cooker"]
    assert own.load("semi").assumed == assumed
    assert own.version("semi").text.count("#") == before.count("#")


def test_the_first_circuit_does_not_move_up(own: Jobs) -> None:
    assert moving(own.load("semi"), "shower", -1) == ()


@pytest.mark.parametrize(
    ("path", "form"),
    [
        (f"{LIST}/nobody", {"base": "1"}),
        (f"{LIST}/shower", {"base": "first"}),
        (f"{LIST}/shower/move", {"base": "1", "by": "far"}),
        (LIST, {"base": "1", "name": "   "}),
    ],
)
def test_a_form_that_cannot_be_meant_is_refused(
    path: str, form: dict[str, str], page: Client, own: Jobs
) -> None:
    answer = page.post(path, form)

    assert answer.status_code in (404, 422)
    assert own.version("semi").number == 1


def test_a_form_of_another_site_changes_nothing(page: Client, own: Jobs) -> None:
    foreign = {"sec-fetch-site": "cross-site"}

    answer = page.post(f"{LIST}/cooker/remove", {"base": "1"}, foreign)

    assert answer.status_code == 403
    assert "cooker" in ids(own)


def test_a_circuit_that_cannot_be_added_stays_in_its_form_with_the_reason(
    page: Client, own: Jobs
) -> None:
    sent = {"base": "1", "name": "Garden room", "serves": "sockets", "line": "2.5", "cpc": "1.5"}

    refused = page.post(LIST, {**sent, "length": "18,5"})

    assert refused.status_code == 422
    assert "Length: 18,5 is not a number over 0" in words(refused.text)
    assert "Write 18.5 with a point." in words(refused.text)
    for typed in ("Garden room", "18,5"):
        assert f'value="{typed}"' in refused.text
    assert own.version("semi").number == 1

    added = page.post(LIST, {**sent, "length": "18.5"})
    assert added.headers["location"] == "/jobs/semi/design#circuit-garden-room"
    assert ids(own)[-1] == "garden-room"
