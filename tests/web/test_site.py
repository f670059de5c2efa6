"""Steps ticked on site: progress that every device shares, notes of what is not right."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

import httpx
import pytest

from boardwright.store.events import Event
from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.ticks import key_of
from boardwright.wiring.results import Phase
from tests.web.client import Client, words
from tests.web.conftest import homes_of

AT = datetime(2026, 11, 25, 13, 48, tzinfo=UTC)


@pytest.fixture
def own(folder: Path) -> Jobs:
    return homes_of(folder)


@pytest.fixture
def client(own: Jobs) -> Client:
    return Client(create_app(own))


def _tick(client: Client, number: int, state: str, note: str = "") -> httpx.Response:
    text = client.get(f"/jobs/semi/on-site?step={number}").text
    key = re.search(r'name="step" value="([a-z0-9-]+)"', text)
    seen = re.search(r'name="seen" value="(\d+)"', text)
    assert key
    assert seen
    form = {"step": key[1], "state": state, "note": note, "seen": seen[1]}
    return client.post("/jobs/semi/on-site/ticks", form)


def test_done_goes_on_to_the_next_step_and_stays_done(client: Client) -> None:
    answered = _tick(client, 1, "done")

    assert answered.headers["location"] == "/jobs/semi/on-site?step=2"
    text = client.get("/jobs/semi/on-site?step=1").text
    assert re.search(r'<p class="done">.*?<b>Done</b> \d\d:\d\d', text, re.DOTALL)
    assert '<span id="done-count">1</span>' in text


def test_not_right_keeps_its_note_and_stays_at_the_step(own: Jobs, client: Client) -> None:
    answered = _tick(client, 2, "not right", "cover will not come off")

    assert answered.headers["location"] == "/jobs/semi/on-site?step=2"
    assert "Not right" in words(client.get("/jobs/semi/on-site?step=2").text)
    assert "cover will not come off" in words(client.get("/jobs/semi/on-site?step=2").text)
    ticks = [event for event in own.store.events("semi", 0) if event.kind == "tick"]
    assert ticks[0].value == {"state": "not right", "note": "cover will not come off"}


def test_a_tick_can_be_taken_back(client: Client) -> None:
    _tick(client, 1, "done")
    _tick(client, 1, "open")

    assert '<span id="done-count">0</span>' in client.get("/jobs/semi/on-site?step=1").text


def test_two_devices_that_disagree_are_both_shown(own: Jobs, client: Client) -> None:
    _tick(client, 1, "done")
    key = key_of(own.design("semi").chosen.wiring.steps[0])
    value = {"state": "not right", "note": "nobody at home"}
    own.store.add_events(
        "semi", [Event("e-1", "tick", f"steps.{key}", value, "Kim", AT, "phone-2")]
    )
    said = words(client.get("/jobs/semi/on-site?step=1").text)

    assert re.search(r"Done \d\d:\d\d", said)
    assert re.search(r"Not right \d\d:\d\d, Kim: nobody at home", said)


def test_a_caution_says_when_it_was_proved_dead(own: Jobs, client: Client) -> None:
    steps = own.design("semi").chosen.wiring.steps
    proving = next(s.number for s in steps if s.title.startswith("Prove dead"))
    wiring = next(s.number for s in steps if s.phase is Phase.WIRE and s.caution.startswith("Dead"))
    assert "Dead, proved" not in client.get(f"/jobs/semi/on-site?step={wiring}").text

    _tick(client, proving, "done")
    said = words(client.get(f"/jobs/semi/on-site?step={wiring}").text)

    assert re.search(r"Dead, proved \d\d:\d\d\. Left the board\? Prove it again\.", said)


@pytest.mark.parametrize("name", ["semi", "cottage", "flat", "three-phase"])
def test_every_step_has_a_name_of_its_own(name: str, jobs: Jobs) -> None:
    keys = [key_of(step) for step in jobs.design(name).chosen.wiring.steps]

    assert len(set(keys)) == len(keys)
    assert max(map(len, keys)) < 380


@pytest.mark.parametrize(
    ("form", "says"),
    [
        ({"step": "no-such", "state": "done", "seen": "0"}, "a step of the order of work"),
        ({"step": "", "state": "done", "seen": "0"}, "a step of the order of work"),
    ],
)
def test_a_step_that_is_none_is_refused(form: dict[str, str], says: str, client: Client) -> None:
    answered = client.post("/jobs/semi/on-site/ticks", form)

    assert answered.status_code == 422
    assert says in words(answered.text)


def test_an_answer_that_is_none_is_refused(client: Client) -> None:
    assert _tick(client, 1, "perhaps").status_code == 422
    assert _tick(client, 1, "not right", "x" * 401).status_code == 422


def test_the_thumb_can_be_the_left_one(client: Client) -> None:
    assert '<body class="site"' in client.get("/jobs/semi/on-site").text

    client.post("/jobs/semi/on-site/hand", {"hand": "left", "back": "4"})

    assert '<body class="site left"' in client.get("/jobs/semi/on-site").text
