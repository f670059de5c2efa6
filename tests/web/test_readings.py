"""Readings after the work, as a form: each an event, corrections and disagreements in sight."""

from __future__ import annotations

import csv
import html
import io
import re
from datetime import UTC, datetime
from pathlib import Path

import httpx
import pytest

from boardwright.documents.readings.file import read_readings
from boardwright.store.events import Event
from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs
from tests.documents.golden import example
from tests.web.client import Client, words
from tests.web.conftest import homes_of

RING = "kitchen-ring"


@pytest.fixture
def own(folder: Path) -> Jobs:
    return homes_of(folder)


@pytest.fixture
def client(own: Jobs) -> Client:
    return Client(create_app(own))


def _post(client: Client, key: str, form: dict[str, str], seen: str = "") -> httpx.Response:
    text = client.get(f"/jobs/semi/test/{key}").text
    now = re.search(r'name="seen" value="(\d+)"', text)
    ahead = re.search(r'name="ahead" value="([^"]*)"', text)
    assert now
    assert ahead
    sent = {"seen": seen or now[1], "ahead": ahead[1], **form}
    return client.post(f"/jobs/semi/test/{key}", sent)


def _events(jobs: Jobs) -> tuple[Event, ...]:
    return tuple(event for event in jobs.store.events("semi", 0) if event.kind == "reading")


def _reading(text: str, name: str) -> str:
    parts = re.split(r'(?=<details class="reading )', text)
    return html.unescape(next(part for part in parts if f'id="r-{name}"' in part))


def test_the_first_circuit_with_a_reading_to_take_is_opened(client: Client) -> None:
    assert "<h1>Origin and board</h1>" in client.get("/jobs/semi/test").text

    _post(
        client, "origin", {"earthing_ohm": "0.03", "bond_water_ohm": "0.02", "bond_gas_ohm": "0.02"}
    )

    assert "<h1>Shower</h1>" in client.get("/jobs/semi/test").text


def test_a_reading_is_an_event_and_the_walk_goes_on(own: Jobs, client: Client) -> None:
    answered = _post(client, RING, {"r1_ohm": "0.31", "ir_live_mohm": ">999", "polarity": "yes"})

    assert answered.headers["location"] == "/jobs/semi/test/down-ring"
    events = _events(own)
    assert {(e.kind, e.subject, str(e.value)) for e in events} == {
        ("reading", f"circuits.{RING}.r1_ohm", "0.31"),
        ("reading", f"circuits.{RING}.ir_live_mohm", "{'over': 999.0}"),
        ("reading", f"circuits.{RING}.polarity", "yes"),
    }
    # What was read before the work is another thing, and stays.
    assert own.load("semi").circuit(RING).readings.r1_ohm == 0.31
    assert own.version("semi").number == 1


def test_a_reading_outside_says_so_with_its_limit(client: Client) -> None:
    _post(client, f"{RING}.live", {"zs_ohm": "2.1", "rcd_ms": "24"})
    text = client.get(f"/jobs/semi/test/{RING}.live").text

    assert "Fail Too high" in words(_reading(text, "zs_ohm"))
    assert "At most" in words(_reading(text, "zs_ohm"))
    assert "Within" in words(_reading(text, "rcd_ms"))
    assert "One reading fails" in words(text)


@pytest.mark.parametrize("typed", ["0,31", "about 1", "-1", "nan", "1e9", "2000000"])
def test_what_is_no_reading_is_refused_beside_its_field(
    typed: str, own: Jobs, client: Client
) -> None:
    answered = _post(client, RING, {"r1_ohm": typed})

    assert answered.status_code == 422
    assert _events(own) == ()
    assert f"{typed} Ω cannot be kept" in words(_reading(answered.text, "r1_ohm"))


def test_a_correction_stands_and_the_first_reading_is_kept(own: Jobs, client: Client) -> None:
    _post(client, RING, {"r1_ohm": "0.13"})
    _post(client, RING, {"r1_ohm": "0.31"})
    text = client.get(f"/jobs/semi/test/{RING}").text

    assert 'value="0.31"' in _reading(text, "r1_ohm")
    assert "do not agree" not in text
    assert len(_events(own)) == 2


def test_two_devices_that_disagree_are_both_shown(own: Jobs, client: Client) -> None:
    _post(client, RING, {"r1_ohm": "0.31"})
    apart = Event(
        "e-2",
        "reading",
        f"circuits.{RING}.r1_ohm",
        0.37,
        "Kim",
        datetime(2026, 11, 25, 14, tzinfo=UTC),
        "phone-2",
    )
    own.store.add_events("semi", [apart])
    said = words(_reading(client.get(f"/jobs/semi/test/{RING}").text, "r1_ohm"))

    assert "Two readings that do not agree." in said
    assert "0.31 Ω" in said
    assert "0.37 Ω Kim" in said

    # The field stands empty: going on without an answer takes neither of them back.
    _post(client, RING, {"r1_ohm": ""})
    assert "do not agree" in client.get(f"/jobs/semi/test/{RING}").text

    _post(client, RING, {"r1_ohm": "0.32"})
    text = client.get(f"/jobs/semi/test/{RING}").text
    assert "do not agree" not in text
    assert 'value="0.32"' in _reading(text, "r1_ohm")


def test_events_of_another_form_do_no_harm(own: Jobs, client: Client) -> None:
    odd = [True, [1], {"over": "x"}, {"over": True}, {"a": 1}, "maybe", 1e308, -5, "", "yes"]
    at = datetime(2026, 11, 25, 14, tzinfo=UTC)
    subject = f"circuits.{RING}.r1_ohm"
    own.store.add_events(
        "semi",
        [
            Event(f"e{n}", "reading", subject, value, "x", at, f"d{n}")
            for n, value in enumerate(odd)
        ],
    )

    answered = client.get(f"/jobs/semi/test/{RING}")

    assert answered.status_code == 200
    assert client.get("/jobs/semi/test").status_code == 200


def test_a_reading_can_be_taken_back(client: Client) -> None:
    _post(client, RING, {"r1_ohm": "0.31"})
    _post(client, RING, {"r1_ohm": ""})

    assert 'value=""' in _reading(client.get(f"/jobs/semi/test/{RING}").text, "r1_ohm")


def test_dead_comes_before_live(client: Client) -> None:
    last = client.get("/jobs/semi/test/garage").text

    assert 'name="ahead" value="origin.live"' in last
    assert "Isolate, lock off, prove dead." in words(last)
    assert "zs_ohm" not in re.findall(r'name="([^"]+)"', last)


def test_limits_are_told_as_json_with_where_they_come_from(client: Client) -> None:
    content = client.get("/api/jobs/semi/limits").json()

    least, good = content["circuits"]["shower"][1]["bounds"]
    # 1 Mohm at 500 V: BS 7671, Table 64.
    assert (least["sense"], least["limit"], least["verdict"]) == ("least", 1.0, "fail")
    assert least["clause"] == "Table 64"
    assert good["verdict"] == "advise"
    assert {"clause", "edition", "known"} <= least.keys()


def test_all_readings_go_into_a_spreadsheet(client: Client) -> None:
    _post(client, RING, {"r1_ohm": "0.31", "ir_live_mohm": ">999"})
    answered = client.get("/jobs/semi/readings.csv")
    rows = list(csv.DictReader(io.StringIO(answered.text)))

    assert answered.headers["content-type"].startswith("text/csv")
    taken = {(row["place"], row["reading"]): row for row in rows if row["value"]}
    assert len(taken) == 2
    row = taken["Kitchen sockets", "Line end to end"]
    assert (row["value"], row["unit"], row["verdict"]) == ("0.31", "Ω", "Within")
    assert taken["Kitchen sockets", "Insulation, line to neutral"]["value"] == ">999"
    assert any(row["reading"] == "Earth fault loop, farthest point" for row in rows)


def test_the_spreadsheet_is_what_the_command_line_reads(client: Client) -> None:
    _post(client, RING, {"r1_ohm": "0.31", "ir_live_mohm": ">999"})
    answered = client.get("/jobs/semi/readings.csv")

    read = read_readings(answered.text, example("semi"))

    assert read.values == {
        "circuits.kitchen-ring.r1_ohm": ("0.31",),
        "circuits.kitchen-ring.ir_live_mohm": (">999",),
    }


def test_a_circuit_that_is_none_is_refused_in_a_sentence(client: Client) -> None:
    assert client.get("/jobs/semi/test/attic").status_code == 422
    assert client.get("/jobs/attic/test").status_code == 404
