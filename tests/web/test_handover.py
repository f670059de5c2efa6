"""The pack looked at and handed out: who, when, of which design, and the same again later."""

from __future__ import annotations

import hashlib
import re
import struct
from datetime import UTC, datetime
from pathlib import Path

import pytest

from boardwright.documents.pack.pack import build
from boardwright.documents.readings.taken import OnSite
from boardwright.store.events import Event
from boardwright.web.app import create_app
from boardwright.web.homes import issues
from boardwright.web.homes.jobs import Jobs
from boardwright.web.homes.taken import on_site
from boardwright.web.views.aftercare import aftercare_view
from boardwright.web.views.papers import handover_view
from tests.web.client import Client, headings, words
from tests.web.conftest import homes_of

SAME_SITE = {"sec-fetch-site": "same-origin"}
HAND_OVER = "/jobs/semi/handover"


@pytest.fixture
def own(folder: Path) -> Jobs:
    return homes_of(folder)


@pytest.fixture
def page(own: Jobs) -> Client:
    return Client(create_app(own))


def test_an_issue_is_kept_with_who_when_and_the_digest_of_what_was_handed_out(
    page: Client, own: Jobs
) -> None:
    page.cookies["who"] = "A%20Fitter"

    answer = page.post(HAND_OVER, {"base": "1"}, SAME_SITE)

    assert (answer.status_code, answer.headers["location"]) == (303, HAND_OVER)
    (kept,) = issues.issues(own.store.events("semi"))
    design = own.design("semi")
    assert (kept.who, kept.version, kept.mark) == ("A Fitter", 1, design.mark)
    # The digest is what hashlib makes of the very bytes of the pack.
    assert kept.digest == hashlib.sha256(build(design, OnSite(issued_on=kept.day))).hexdigest()
    assert kept.open_points == issues.open_points(design)

    again = page.get(f"/jobs/semi/issued/{kept.number}/pack.pdf")
    assert hashlib.sha256(again.content).hexdigest() == kept.digest


def test_readings_go_into_the_pack_and_later_ones_do_not_change_it(page: Client, own: Jobs) -> None:
    page.post("/jobs/semi/test/shower", {"seen": "0", "ir_live_mohm": ">999"}, SAME_SITE)
    page.post(HAND_OVER, {"base": "1"}, SAME_SITE)
    (kept,) = issues.issues(own.store.events("semi"))
    page.post("/jobs/semi/test/shower", {"seen": "99", "ir_live_mohm": "0.4"}, SAME_SITE)

    again = page.get(f"/jobs/semi/issued/{kept.number}/pack.pdf")

    subject = "circuits.shower.ir_live_mohm"
    known = [e for e in own.store.events("semi") if e.number <= kept.seen]
    assert on_site(known).values == {subject: (">999",)}
    assert on_site(own.store.events("semi")).values == {subject: ("0.4",)}
    assert hashlib.sha256(again.content).hexdigest() == kept.digest
    assert "Readings were taken since" in words(page.get(HAND_OVER).text)


def test_the_page_shows_every_page_of_the_pack_as_a_picture(page: Client, own: Jobs) -> None:
    text = page.get(HAND_OVER).text

    pictures = re.findall(rf'<img src="({HAND_OVER}/\d+\.png)"', text)
    # Each page of the PDF is an object of its own type (ISO 32000-1, 7.7.3.3).
    in_pdf = re.findall(rb"/Type\s*/Page[^s]", build(own.design("semi")))
    assert not in_pdf or len(pictures) == len(in_pdf)
    assert len(pictures) > 10
    first = page.get(pictures[0]).content
    # PNG: the signature, then width and height in the header (ISO 15948, 5.2 and 11.2.2).
    assert first[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", first[16:24])
    assert height / width == pytest.approx(297 / 210, rel=0.01)


def test_what_is_open_is_named_before_it_is_issued(page: Client, own: Jobs) -> None:
    text = words(page.get(HAND_OVER).text)

    for line in issues.open_points(own.design("semi")):
        # The page's words are read with every space a plain one.
        assert " ".join(line.split()) in text
    assert "Work on site: 0 of" in text


def test_after_a_change_the_page_says_that_the_pack_is_no_longer_the_home_s(
    page: Client, own: Jobs
) -> None:
    page.post(HAND_OVER, {"base": "1"}, SAME_SITE)
    own_mark = own.design("semi").mark
    page.post("/jobs/semi/design/circuits/cooker", {"base": "1", "length": "12"}, SAME_SITE)

    text = words(page.get(HAND_OVER).text)

    assert f"{own_mark} was handed out" in text
    assert "Issue it again" in text


def test_no_pack_goes_out_where_the_work_must_not(
    own: Jobs, monkeypatch: pytest.MonkeyPatch
) -> None:
    design = own.design("semi")
    monkeypatch.setattr(type(design), "forbids_work", property(lambda _: True))

    with pytest.raises(issues.IssueRefused, match="must not go ahead"):
        issues.issue(own, "semi", version=1, who="x")
    assert issues.issues(own.store.events("semi")) == ()
    assert handover_view(design).forbidden


@pytest.mark.parametrize("path", [f"{HAND_OVER}/0.png", f"{HAND_OVER}/999.png"])
def test_a_page_that_the_pack_has_not_is_not_found(path: str, page: Client) -> None:
    assert page.get(path).status_code == 404


def test_a_pack_that_was_never_issued_cannot_be_had(page: Client) -> None:
    answer = page.get("/jobs/semi/issued/7/pack.pdf")

    assert answer.status_code == 404
    assert headings(answer.text) == ["No pack was handed out under that number."]


@pytest.mark.parametrize(
    ("issued", "now", "due"),
    [
        ((2026, 3, 31), (2026, 4, 1), "28\u00a0September\u00a02026"),
        ((2026, 3, 10), (2026, 9, 11), "10\u00a0March\u00a02027"),
        ((2026, 8, 15), (2026, 8, 15), "15\u00a0February\u00a02027"),
    ],
)
def test_the_test_buttons_fall_due_half_a_year_after_the_issue_and_again(
    issued: tuple[int, int, int], now: tuple[int, int, int], due: str, jobs: Jobs
) -> None:
    # Twice a year: the notice beside an RCD (BS 7671, 514.12.2; from memory).
    event = Event(
        "i", issues.KIND, issues.SUBJECT, {"version": 1}, "x", datetime(*issued, tzinfo=UTC), "p"
    )

    view = aftercare_view(jobs.design("semi"), [event], datetime(*now, tzinfo=UTC))

    assert view.due[0].next == due


def test_without_an_issue_nothing_is_counted(page: Client) -> None:
    text = page.get("/jobs/semi/aftercare").text

    assert headings(text) == ["Nothing is counted until the pack is issued."]


def test_the_householder_reads_three_answers_and_no_sign_of_the_trade(page: Client) -> None:
    text = page.get(f"{HAND_OVER}/householder").text
    plain = words(re.findall(r'<div class="plain">(.*?)</div>', text, re.DOTALL)[0])

    assert re.findall(r"<h2>(.*?)</h2>", text) == [
        "What is planned",
        "What to press, and when",
        "Whom to ask",
    ]
    assert re.findall(r"\b(RCD|RCBO|SPD|MCB|Zs|kA|mA|kV)\b", plain) == []
