"""What if: variants worked out without being saved, only what differs, one kept or neither."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import unquote

import httpx
import pytest

from boardwright.core.errors import FieldError
from boardwright.web.app import create_app
from boardwright.web.forms import weighing
from boardwright.web.homes.jobs import Jobs
from boardwright.web.views.weigh import Tried, weighed
from boardwright.web.working.ideas import ideas
from tests.web.client import Client, headings, words
from tests.web.conftest import homes_of

SAME_SITE = {"sec-fetch-site": "same-origin"}


@pytest.fixture
def own(folder: Path) -> Jobs:
    return homes_of(folder)


@pytest.fixture
def page(own: Jobs) -> Client:
    return Client(create_app(own))


def tried(jobs: Jobs, *lines: str) -> Tried:
    """Return a variant of the semi with its design."""
    edits = weighing.read(lines)
    return Tried("x", jobs.designed(jobs.variant("semi", edits)), lines)


def worked_out(client: Client, jobs: Jobs, path: str, *variants: tuple[str, ...]) -> httpx.Response:
    """Return a page of which every design is there already."""
    for lines in ((), *variants):
        tried(jobs, *lines)
    return client.get(path)


def test_only_what_differs_is_shown(own: Jobs) -> None:
    found = weighed([tried(own), tried(own, "circuits.cooker.cable.line_mm2=10")])

    differ = {row.name: row.values for row in found.differences}
    assert "Cooker: Iz" in differ
    assert not [name for name in differ if name.startswith(("Boiler", "Shower"))]
    # A 10 mm² cable carries more than a 6 mm² one clipped the same way (BS 7671, Table 4D5: 47
    # and 64 A for method C; from memory).
    assert differ["Cooker: Iz"] == ("47.0 A", "64.0 A")


def test_the_same_twice_differs_in_nothing(own: Jobs) -> None:
    found = weighed([tried(own), tried(own)])

    assert found.differences == ()
    assert [side.points for side in found.sides] == [(), ()]
    assert found.answer == "No figure differs."


def test_without_surge_protection_the_surge_is_there_and_the_finding_too(own: Jobs) -> None:
    found = weighed([tried(own), tried(own, "surge_environment.declined_by=owner")])

    values = {row.name: row.values for row in found.differences}
    assert values["SPD"][1] == "none"
    with_spd, without = (int(v.split(" to ")[1].split()[0]) for v in values["Surge at the board"])
    assert without > with_spd
    assert any(point.heading == "SPD" for point in found.sides[1].points)


def test_a_variant_is_told_in_words(own: Jobs) -> None:
    edits = weighing.read(["circuits.cooker.cable.line_mm2=10", "wishes.division=split load"])

    assert weighing.in_words(own.load("semi"), edits) == (
        "Cooker, Line: 6 → 10",
        "RCDs: RCBO on every way → split load",
    )


def test_lines_are_read_back_as_written() -> None:
    lines = ("wishes.spd=a=b", "wishes.maker=", "circuits.a.name=Hob, new")

    assert weighing.written(weighing.read(lines)) == lines
    assert weighing.read(lines)[1].value is None


@pytest.mark.parametrize("line", ["", "wishes.spd", "=5"])
def test_a_line_without_path_or_value_is_refused(line: str) -> None:
    with pytest.raises(FieldError):
        weighing.read([line])


def test_the_page_says_what_was_tried_and_keeps_one(page: Client, own: Jobs) -> None:
    lines = ("circuits.cooker.cable.line_mm2=10",)

    shown = worked_out(page, own, f"/jobs/semi/weigh?a={lines[0]}", lines)
    assert headings(shown.text)[0].endswith("differ.") or "differ" in headings(shown.text)[0]
    assert "Cooker, Line: 6 → 10" in words(shown.text)
    assert own.version("semi").number == 1

    answer = page.post("/jobs/semi/weigh", {"base": "1", "line": lines[0]}, SAME_SITE)
    assert (answer.status_code, answer.headers["location"]) == (303, "/jobs/semi/design")
    assert own.load("semi").circuit("cooker").cable.line_mm2 == 10
    assert own.store.latest("semi").change.stamp.why.endswith("Cooker, Line: 6 → 10")


def test_a_variant_that_makes_no_job_is_told_in_a_sentence(page: Client) -> None:
    answer = page.get("/jobs/semi/weigh?a=circuits.cooker.cable.line_mm2=thick")

    assert answer.status_code == 422
    assert "circuits.cooker.cable.line_mm2: found 'thick'" in words(answer.text)


def test_what_is_not_there_yet_shows_how_far_it_is(page: Client) -> None:
    text = page.get("/jobs/semi/weigh?a=circuits.cooker.cable.length_m=33").text

    assert headings(text) == ["The variants are being worked out."]
    assert len(re.findall(r'<li data-work="[0-9a-f]{16}">', text)) == 2
    # Without script the page asks again by itself.
    assert '<noscript><meta http-equiv="refresh" content="2"></noscript>' in text


def test_one_entry_goes_into_the_variant_that_was_asked_for(page: Client) -> None:
    answer = page.get(
        "/jobs/semi/weigh/one?a=wishes.spd=x&circuit=cooker&entry=b:cable.line_mm2&value=10"
    )

    assert unquote(answer.headers["location"]) == (
        "/jobs/semi/weigh?a=wishes.spd=x&b=circuits.cooker.cable.line_mm2=10"
    )


def test_every_idea_makes_a_job(own: Jobs) -> None:
    found = list(ideas(own.design("semi")))

    assert {"Split load", "Surge protection declined"} <= {idea.words for idea in found}
    for idea in found:
        job = own.variant("semi", weighing.read(idea.edits))
        assert job != own.load("semi"), idea.words
