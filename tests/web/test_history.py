"""History, steps back and forward, what changed in words, and the choice between two versions."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from boardwright.job.differ import differences, field_words
from boardwright.job.edit import Edit
from boardwright.job.read import parse_job
from boardwright.store.conflicts import Conflict
from boardwright.store.records import Stamp
from boardwright.web.app import create_app
from boardwright.web.forms.settle import settled
from boardwright.web.homes.jobs import Jobs
from tests.web.client import Client, headings, words
from tests.web.conftest import HOMES, homes_of

ZE = "supply.ze_ohm"
LENGTH = "circuits.shower.cable.length_m"


@pytest.fixture
def homes(folder: Path) -> Jobs:
    return homes_of(folder)


@pytest.fixture
def page(homes: Jobs) -> Client:
    return Client(create_app(homes))


def change(homes: Jobs, base: int, who: str = "Ann", **values: object) -> object:
    edits = [Edit({"ze": ZE, "length": LENGTH}.get(k, k), v) for k, v in values.items()]
    return homes.change("semi", edits, base=base, stamp=Stamp(who, "said anew", homes.now()))


def clash(homes: Jobs) -> Conflict:
    """Let Ann and Bob say one field differently, and each another field too."""
    change(homes, 1, "Ann", ze=0.31, length=21)
    kept = change(homes, 1, "Bob", ze=0.27, title="Bob's title")
    assert isinstance(kept, Conflict)
    return kept


def test_the_history_says_who_when_and_why(homes: Jobs, page: Client) -> None:
    change(homes, 1, "Ann", ze=0.31)

    shown = words(page.get("/jobs/semi/history").text)

    assert headings(page.get("/jobs/semi/history").text) == ["2 versions. None is ever lost."]
    assert "Ann : said anew" in shown or "Ann: said anew" in shown
    assert "stands now" in shown


def test_undo_and_redo_without_script(homes: Jobs, page: Client) -> None:
    change(homes, 1, ze=0.31)
    top = page.get("/jobs/semi/history").text
    assert re.search(r'<button title="Undo: said anew, Ann">Undo', top)
    assert re.search(r"<button disabled>Redo", top)

    undone = page.post("/jobs/semi/step", {"base": "2", "back": "/jobs/semi/survey"})
    after_undo = homes.load("semi").supply.ze_ohm
    page.post("/jobs/semi/step", {"base": "3", "forward": "true"})

    assert (undone.status_code, undone.headers["location"]) == (303, "/jobs/semi/survey")
    assert (after_undo, homes.load("semi").supply.ze_ohm) == (0.21, 0.31)
    assert page.post("/jobs/semi/step", {"base": "4", "forward": "true"}).status_code == 422


def test_back_to_any_version(homes: Jobs, page: Client) -> None:
    for base, ze in enumerate((0.31, 0.32, 0.33), start=1):
        change(homes, base, ze=ze)

    page.post("/jobs/semi/step", {"base": "4", "number": "2", "back": "//elsewhere"})

    assert homes.load("semi").supply.ze_ohm == 0.31
    assert len(homes.store.history("semi")) == 5
    assert page.post("/jobs/semi/step", {"base": "5", "number": "99"}).status_code == 404
    assert page.post("/jobs/semi/step", {"base": "x"}).status_code == 422


def test_what_changed_is_said_in_words(homes: Jobs, page: Client) -> None:
    change(homes, 1, ze=None, length=21.5, title="9 Alder Close")

    said = words(page.get("/jobs/semi/changed?one=1&other=2").text)

    assert "3 things differ between version 1 and version 2." in said
    assert "What people call the home 3 Alder Close 9 Alder Close" in said
    assert re.search(r"External earth fault loop impedance, .* 0.21 Ω not known", said)
    assert re.search(r"Shower : length .* m 21.5 m", said)
    assert page.get("/jobs/semi/changed?one=1&other=9").status_code == 404
    assert page.get("/jobs/semi/changed?one=2").status_code == 422


def test_two_versions_are_shown_and_chosen_field_by_field(homes: Jobs, page: Client) -> None:
    clash(homes)
    shown = page.get("/jobs/semi/versions")

    assert headings(shown.text) == ["Two versions: choose. Both are kept."]
    said = words(shown.text)
    assert "It was 0.21 Ω." in said
    assert "0.31 Ω" in said
    assert "0.27 Ω" in said
    assert "Two versions: choose" in words(page.get("/").text)
    answered = page.post("/jobs/semi/versions", {"number": "1", f"choice.{ZE}": "mine"})

    assert answered.headers["location"] == "/jobs/semi/history"
    job = homes.load("semi")
    assert (job.supply.ze_ohm, job.title) == (0.27, "Bob's title")
    assert job.circuit("shower").cable.length_m == 21
    assert homes.store.conflicts("semi") == ()
    assert headings(page.get("/jobs/semi/versions").text) == ["Nothing waits for a choice."]


@pytest.mark.parametrize("task", ["survey/supply", "design", "board", "on-site", "test"])
def test_every_page_of_a_home_says_that_two_versions_wait(
    task: str, homes: Jobs, page: Client
) -> None:
    before = words(page.get(f"/jobs/semi/{task}").text)
    conflict = clash(homes)
    waits = page.get(f"/jobs/semi/{task}").text
    homes.save(
        "semi", conflict.theirs.text, base=conflict.theirs.number, stamp=conflict.mine.stamp,
        settles=conflict.mine.number,
    )  # fmt: skip
    after = words(page.get(f"/jobs/semi/{task}").text)

    assert "Two versions: choose" in words(waits)
    assert 'href="/jobs/semi/versions"' in waits
    assert "Two versions" not in before + after


def test_who_chooses_what_stands_keeps_what_did_not_clash(homes: Jobs) -> None:
    conflict = clash(homes)

    job = parse_job(settled(conflict, {ZE: "theirs"}), "semi")

    assert (job.supply.ze_ohm, job.title) == (0.31, "Bob's title")
    assert job.circuit("shower").cable.length_m == 21


@pytest.mark.parametrize(
    "form",
    [
        {"number": "1"},
        {"number": "1", f"choice.{ZE}": "both"},
        {"number": "7", f"choice.{ZE}": "mine"},
        {"number": "x", f"choice.{ZE}": "mine"},
        {"number": "1", "whole": "neither"},
        {"number": "²", "whole": "mine"},
        {},
    ],
)
def test_a_choice_that_is_none_is_told(form: dict[str, str], homes: Jobs, page: Client) -> None:
    clash(homes)

    assert page.post("/jobs/semi/versions", form).status_code == 422
    assert len(homes.store.conflicts("semi")) == 1


def test_one_of_two_is_kept_as_a_whole(homes: Jobs, page: Client) -> None:
    conflict = clash(homes)

    page.post("/jobs/semi/versions", {"number": "1", "whole": "mine"})

    assert homes.version("semi").text == conflict.mine.text
    assert homes.store.conflicts("semi") == ()


def test_a_page_shows_the_version_it_was_made_from(homes: Jobs, page: Client) -> None:
    change(homes, 1, ze=0.31)

    assert 'data-stands="2"' in page.get("/jobs/semi/history").text
    assert page.get("/api/jobs/semi/pulse").json()["version"] == 2
    behind = page.get("/api/jobs/semi/history?after=1").json()["history"]
    assert [(each["number"], each["who"]) for each in behind] == [(2, "Ann")]


@pytest.mark.parametrize("name", sorted(path.stem for path in HOMES.glob("*.yaml")))
def test_every_field_of_a_home_has_words(name: str) -> None:
    job = parse_job((HOMES / f"{name}.yaml").read_text(encoding="utf-8"), name)
    empty = job.model_copy(update={"circuits": job.circuits[:1], "title": "x"})

    found = differences(job, empty)

    assert [each.path for each in found if not (each.place or each.what)] == []
    assert len([each for each in found if each.path.startswith("circuits.")]) == (
        len(job.circuits) - 1
    )
    assert differences(job, job) == ()


def test_a_field_goes_by_its_circuits_name() -> None:
    job = parse_job((HOMES / "semi.yaml").read_text(encoding="utf-8"), "semi")

    assert field_words(LENGTH, job)[0] == "Shower"
    assert field_words("earthing.bonds.water.csa_mm2", job) == (
        "bond water",
        "cross-section of the bonding conductor",
    )
