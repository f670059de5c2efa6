"""The survey as a form: every answer of a job can be given, none is lost, without script too."""

from __future__ import annotations

import html
import re
from pathlib import Path
from typing import Any

import httpx
import pytest

from boardwright.job.schema import job_schema
from boardwright.job.words import resolved
from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.walk import groups, stops
from tests.web.client import Client, words
from tests.web.conftest import homes_of

NOT_ASKED = {
    "schema_version": "the file's own form",
    "id": "given once, when the home is begun",
    "assumed": "asked beside each answer",
    "circuits.id": "given once, after the name",
    "circuits.appliances.id": "given once, after the kind",
    "wishes.ways": "given on the board, by moving a device",
    "supply.submain.id": "a name that nobody needs to see",
}
"""What the survey does not ask, each with its reason."""


@pytest.fixture
def own(folder: Path) -> Jobs:
    return homes_of(folder)


@pytest.fixture
def client(own: Jobs) -> Client:
    return Client(create_app(own))


def _fields(job_id: str, jobs: Jobs) -> set[str]:
    """Return the path of every field asked, without the names of list items."""
    job = jobs.load(job_id)
    paths = {field.path for stop in stops(job) for g in groups(stop, job) for field in g.fields}
    return {
        re.sub(
            r"^(circuits|.*(?:bonds|devices|appliances))\.[^.]+\.",
            r"\1.",
            re.sub(r"(appliances)\.[^.]+\.", r"\1.", path),
        )
        for path in paths
    }


def _leaves(schema: dict[str, Any], root: dict[str, Any], at: str = "") -> set[str]:
    found: set[str] = set()
    for name, inner in schema["properties"].items():
        part, path = resolved(inner, root), f"{at}{name}"
        items = resolved(part["items"], root) if part.get("type") == "array" else part
        if "properties" in items:
            found |= _leaves(dict(items), root, f"{path}.")
        else:
            found.add(path)
    return found


def test_every_field_of_the_job_can_be_answered(own: Jobs, client: Client) -> None:
    client.post(
        "/jobs/semi/survey/supply",
        {
            "base": "1",
            "do": "add:supply.submain",
            **{
                f"supply.submain.{key}": value
                for key, value in {
                    "fuse_a": "63",
                    "cable": "swa 90",
                    "line_mm2": "16",
                    "cpc_mm2": "16",
                    "length_m": "12",
                }.items()
            },
        },
    )
    for serves, part, more in (
        ("EV point", "ev", {"ev.outdoors": "yes"}),
        ("PV", "source", {"source.power_w": "3600"}),
    ):
        _post(client, "circuits.garage", {"circuits.garage.serves": serves})
        form = {f"circuits.garage.{key}": value for key, value in more.items()}
        _post(client, "circuits.garage.load", form, f"add:circuits.garage.{part}")
        asked = _fields("semi", own)
        if part == "ev":
            ev = asked
            _post(client, "circuits.garage.load", {}, "remove:circuits.garage.ev")

    schema = job_schema()
    missing = _leaves(schema, schema) - (asked | ev)

    assert missing == set(NOT_ASKED)


def test_an_answer_is_kept_and_the_walk_goes_on(own: Jobs, client: Client) -> None:
    answered = _post(client, "supply", {"supply.ze_ohm": "0.24"})

    assert (answered.status_code, answered.headers["location"]) == (
        303,
        "/jobs/semi/survey/earthing",
    )
    assert own.load("semi").supply.ze_ohm == 0.24
    assert "0.24" in (own.version("semi").text)
    assert "# read with the means of earthing apart" in own.version("semi").text


def test_a_prefix_is_taken_away_before_it_is_kept(own: Jobs, client: Client) -> None:
    _post(client, "supply", {"supply.ipf_a": "1.4"})
    _post(client, "circuits.cooker.readings", {"circuits.cooker.readings.leakage_a": "3.5"})

    job = own.load("semi")
    assert job.supply.ipf_a == 1400
    assert job.circuit("cooker").readings.leakage_a == 0.0035


@pytest.mark.parametrize(
    ("key", "path", "typed", "says"),
    [
        ("supply", "supply.ze_ohm", "0,31", "Write 0.31 with a point."),
        ("supply", "supply.tails.csa_mm2", "240", "at most 95"),
        ("supply", "supply.ipf_a", "250", "at most 100 kA"),
        (
            "circuits.cooker.load",
            "circuits.cooker.load.points",
            "many",
            "a whole number from 1 to 200",
        ),
        ("premises", "designed_on", "25/11/2026", "year-month-day"),
    ],
)
def test_a_wrong_answer_stays_with_what_would_be_right_beside_it(
    key: str, path: str, typed: str, *, says: str, own: Jobs, client: Client
) -> None:
    before = own.version("semi").number

    answered = _post(client, key, {path: typed, "supply.tails.length_m": "1.7"})

    assert answered.status_code == 422
    assert own.version("semi").number == before
    field = _field(answered.text, path)
    assert f'value="{typed}"' in field
    assert says in words(field).replace("\u00a0", " ")
    assert typed in words(field)
    if key == "supply":
        assert 'value="1.7"' in _field(answered.text, "supply.tails.length_m")


def test_marks_stay_with_what_could_not_be_kept(client: Client) -> None:
    form = {
        "supply.ze_ohm": "x",
        "supply.tails.length_m": "1.4",
        "unknown": "supply.tails.length_m",
    }
    text = _post(client, "supply", {**form, "supply.service_length_m": "9"}).text

    assert re.search(r'name="unknown" value="supply.tails.length_m"[^>]* checked', text)
    assert not re.search(r'name="assumed" value="supply.service_length_m" checked', text)


def test_a_wish_can_be_taken_back(own: Jobs, client: Client) -> None:
    _post(client, "wishes", {"wishes.maker": "Ravel"})
    assert own.load("semi").wishes.maker == "Ravel"

    _post(client, "wishes", {"wishes.maker": "", "wishes.keep_apart": "Lights upstairs, cooker"})
    wishes = own.load("semi").wishes
    assert wishes.maker == ""
    assert wishes.keep_apart == (("lights-up", "cooker"),)


def test_not_known_yet_is_an_answer(own: Jobs, client: Client) -> None:
    _post(client, "supply", {"supply.ze_ohm": "0.21", "unknown": "supply.ze_ohm"})
    text = client.get("/jobs/semi/survey/supply").text

    assert own.load("semi").supply.ze_ohm is None
    assert re.search(r'name="unknown" value="supply.ze_ohm"[^>]* checked', text)
    assert "Asked again before the work" in words(_field(text, "supply.ze_ohm"))

    # A figure typed while the mark still stands is an answer.
    _post(client, "supply", {"supply.ze_ohm": "0.3", "unknown": "supply.ze_ohm"})
    assert own.load("semi").supply.ze_ohm == 0.3


def test_what_the_design_needs_and_nobody_knows_is_assumed(own: Jobs, client: Client) -> None:
    path = "circuits.shower.cable.line_mm2"
    _post(client, "circuits.shower.cable", {path: "10", "unknown": path})
    text = client.get("/jobs/semi/survey/circuits.shower.cable").text

    assert path in own.load("semi").assumed
    assert own.load("semi").circuit("shower").cable.line_mm2 == 10
    assert "the design goes on with 10 mm²" in words(_field(text, path))

    _post(client, "circuits.shower.cable", {path: "6"})
    assert path not in own.load("semi").assumed


def test_an_assumed_answer_says_so_and_is_settled_by_typing(own: Jobs, client: Client) -> None:
    path = "supply.service_length_m"
    text = client.get("/jobs/semi/survey/supply").text
    assert "Assumed, nobody saw it." in words(_field(text, path))

    _post(client, "supply", {path: "12"})

    assert path not in own.load("semi").assumed


def test_an_unusual_answer_is_advised_and_kept(client: Client) -> None:
    text = client.get("/jobs/semi/survey/circuits.cooker.readings").text
    field = words(_field(text, "circuits.cooker.readings.insulation_mohm"))

    assert "Advise 1.4 MΩ holds, but under 2 MΩ a new RCD may trip. Kept." in field


def test_a_size_that_no_table_has_is_told_beside_its_field(own: Jobs, client: Client) -> None:
    path = "circuits.shower.cable.line_mm2"
    _post(client, "circuits.shower.cable", {path: "0.5"})
    text = client.get("/jobs/semi/survey/circuits.shower.cable").text

    assert own.load("semi").circuit("shower").cable.line_mm2 == 0.5
    assert "1 mm2 or more" in words(_field(text, path))


def test_a_circuit_is_added_copied_renamed_moved_and_removed(own: Jobs, client: Client) -> None:
    new = {
        "circuits.new.name": "Hob",
        "circuits.new.serves": "cooker",
        "circuits.new.cable.line_mm2": "6",
    }
    answered = _post(client, "circuits", new, "add:circuits.new")
    assert answered.headers["location"] == "/jobs/semi/survey/circuits.hob"
    job = own.load("semi")
    assert job.circuits[-1].cable.line_mm2 == 6
    assert {a for a in job.assumed if "hob" in a} == {
        "circuits.hob.cable.cpc_mm2",
        "circuits.hob.cable.length_m",
    }

    _post(client, "circuits.hob", {"circuits.hob.name": "Induction hob"}, "copy:circuits.hob")
    assert [c.name for c in own.load("semi").circuits[-2:]] == ["Induction hob", "Hob, copy"]

    _post(client, "circuits", {}, "up:circuits.hob")
    after = own.load("semi")
    assert [c.id for c in after.circuits[-3:]] == ["hob", "garage", "hob-copy"]
    assert set(after.assumed) >= set(job.assumed)

    client.send("POST", "/jobs/semi/board", {"base": "4", "way": "kitchen-ring:5"}, form=True)
    assert own.load("semi").wishes.ways == {"kitchen-ring": 5}
    _post(client, "circuits.kitchen-ring", {}, "remove:circuits.kitchen-ring")
    job = own.load("semi")
    assert job.wishes.ways == {}
    assert "kitchen-ring" not in {c.id for c in job.circuits}
    assert job.existing_board is not None
    assert job.existing_board.devices[1].circuit is None


def test_bonds_devices_and_appliances_come_and_go(own: Jobs, client: Client) -> None:
    _post(client, "earthing", {"earthing.bonds.new.service": "oil"}, "add:earthing.bonds.new")
    assert [bond.service for bond in own.load("semi").earthing.bonds] == ["water", "gas", "oil"]
    _post(client, "earthing", {}, "remove:earthing.bonds.oil")
    assert [bond.service for bond in own.load("semi").earthing.bonds] == ["water", "gas"]

    _post(client, "board", {"existing_board.ways": "10"})
    device = {"existing_board.devices.new.way": "9", "existing_board.devices.new.kind": "MCB"}
    answered = _post(client, "board", device, "add:existing_board.devices.new")
    assert answered.headers["location"].endswith("/existing_board.devices.9")
    board = own.load("semi").existing_board
    assert board is not None
    assert board.devices[-1].kind == "MCB"

    way = "existing_board.devices.9"
    _post(client, way, {f"{way}.kind": "RCCB", f"{way}.idn_a": "30", f"{way}.feeds": "1, 2"})
    board = own.load("semi").existing_board
    assert board is not None
    assert (board.devices[-1].feeds, board.devices[-1].idn_a) == ((1, 2), 0.03)
    assert 'value="1, 2"' in client.get(f"/jobs/semi/survey/{way}").text

    kind = {"circuits.cooker.appliances.new.kind": "oven"}
    answered = _post(client, "circuits.cooker.load", kind, "add:circuits.cooker.appliances.new")
    assert answered.headers["location"].endswith("/circuits.cooker.appliances.oven-2")


def test_nothing_added_without_what_it_needs(own: Jobs, client: Client) -> None:
    before = own.version("semi").number

    answered = _post(client, "circuits", {"circuits.new.name": "Hob"}, "add:circuits.new")

    assert answered.status_code == 422
    assert own.version("semi").number == before
    assert 'value="Hob"' in _field(answered.text, "circuits.new.name")
    assert "Serves: nothing cannot be kept" in words(_field(answered.text, "circuits.new.serves"))


def test_what_another_device_answered_meanwhile_stays(own: Jobs, client: Client) -> None:
    _post(client, "supply", {"supply.ze_ohm": "0.3"}, base=1)
    _post(client, "supply", {"supply.ze_ohm": "0.21", "supply.tails.length_m": "2"}, base=1)

    supply = own.load("semi").supply
    assert (supply.ze_ohm, supply.tails.length_m) == (0.3, 2)


def test_two_answers_to_one_question_are_both_kept(own: Jobs, client: Client) -> None:
    _post(client, "supply", {"supply.ze_ohm": "0.3"}, base=1)
    answered = _post(client, "supply", {"supply.ze_ohm": "0.4"}, base=1)

    assert answered.headers["location"] == "/jobs/semi/versions"
    [conflict] = own.store.conflicts("semi")
    assert {(c.mine, c.theirs) for c in conflict.clashes} == {(0.4, 0.3)}


@pytest.mark.parametrize(
    "do",
    ["copy:foo", "up:circuits.foo", "add:new", "remove:", "remove:circuits", "add:supply", "x"],
)
def test_only_what_a_button_of_the_screen_does_is_done(do: str, own: Jobs, client: Client) -> None:
    answered = _post(client, "circuits", {}, do)

    assert answered.status_code == 422
    assert own.version("semi").number == 1


def test_a_screen_that_is_none_is_refused_in_a_sentence(client: Client) -> None:
    answered = client.get("/jobs/semi/survey/cellar")

    assert answered.status_code == 422
    assert "expected a screen of the survey" in words(answered.text)


def _post(
    client: Client, key: str, form: dict[str, str], do: str = "go", base: int = 0
) -> httpx.Response:
    text = client.get(f"/jobs/semi/survey/{key}").text
    now = re.search(r'name="base" value="(\d+)"', text)
    ahead = re.search(r'name="ahead" value="([^"]+)"', text)
    assert now
    assert ahead
    sent = {"base": str(base or now[1]), "ahead": ahead[1], "do": do, **form}
    return client.post(f"/jobs/semi/survey/{key}", sent)


def _field(text: str, path: str) -> str:
    """Return one field of a page."""
    parts = re.split(r'(?=<div class="field )', text)
    return html.unescape(next(part for part in parts if f'data-path="{path}"' in part))
