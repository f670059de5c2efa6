"""Every page of every home: it answers in one sentence, in the papers' own figures."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from boardwright.documents.answer import answer
from boardwright.documents.design_file import build as design_json
from boardwright.documents.pack_schedules import circuits as circuit_schedule
from boardwright.documents.shelf import shelf
from boardwright.web.app import create_app
from boardwright.web.jobs import Jobs
from boardwright.wiring.results import Origin
from tests.web.client import Client, headings, words
from tests.web.conftest import HOMES

NAMES = tuple(sorted(path.stem for path in HOMES.glob("*.yaml")))
PAGES = ("survey", "design", "board", "surge", "on-site", "test", "handover", "aftercare")
EVERY_HOME = [
    pytest.param(name, marks=() if name == "semi" else pytest.mark.slow) for name in NAMES
]


@pytest.mark.parametrize("name", EVERY_HOME)
def test_every_page_of_a_home_answers_in_one_heading(name: str, client: Client, jobs: Jobs) -> None:
    title = jobs.load(name).title

    for page in PAGES:
        answered = client.get(f"/jobs/{name}/{page}")

        assert answered.status_code == 200, page
        assert len(headings(answered.text)) == 1, page
        assert title in answered.text
        assert re.search(r"<title>[^<]+ · Boardwright</title>", answered.text), page


@pytest.mark.parametrize("name", EVERY_HOME)
def test_no_page_leaks_the_machinery(name: str, client: Client) -> None:
    for page in PAGES:
        text = client.get(f"/jobs/{name}/{page}").text
        read = words(text)

        assert not re.search(r"\{[{%]|[%}]\}|Undefined|<bound method|\bdataclass\b", text), page
        assert not re.search(r"\bNone\b|\bTrue\b|\bFalse\b|\bnan\b|Verdict\.", read), page
        assert 'style="' not in text, "the content policy would refuse it"


@pytest.mark.parametrize("name", EVERY_HOME)
def test_the_design_page_says_the_command_lines_answer(
    name: str, client: Client, jobs: Jobs
) -> None:
    said = answer(jobs.design(name))

    text = client.get(f"/jobs/{name}/design").text

    assert headings(text) == [said.sentence]
    for group in (*said.first, *said.then):
        assert words(group.to_do) in words(text)


@pytest.mark.parametrize("name", EVERY_HOME)
def test_circuit_figures_are_those_of_the_pack(name: str, client: Client, jobs: Jobs) -> None:
    rows = re.findall(
        r'<tr id="circuit-[^"]+">(.*?)</tr>', client.get(f"/jobs/{name}/design").text, re.DOTALL
    )
    printed = circuit_schedule(jobs.design(name))["rows"]

    assert len(rows) == len(printed)
    for row, paper in zip(rows, printed, strict=True):
        figures = " ".join(paper).replace("/", " ").replace("†", "").replace("*", "")
        read = words(row).replace("max", "").replace("min", "").split()
        missing = [part for part in figures.split() if part not in (*read, "?")]
        assert missing == [], paper


@pytest.mark.parametrize("name", EVERY_HOME)
def test_every_conductor_has_a_row_and_every_new_one_a_wire(
    name: str, client: Client, jobs: Jobs
) -> None:
    wired = jobs.design(name).chosen.wiring.conductors
    text = client.get(f"/jobs/{name}/board").text

    rows = re.findall(r'<tr[^>]* data-wire="([^"]+)"', text)
    links = set(re.findall(r'href="#wire-([^"]+)"', text))
    picks = set(re.findall(r'<a class="pick" id="wire-([^"]+)"', text))

    assert sorted(rows) == sorted(c.id for c in wired)
    assert picks == {c.id for c in wired if c.origin in (Origin.NEW, Origin.FLYING)}
    assert links == picks
    assert set(re.findall(r'href="#row-([^"]+)"', text)) <= set(rows)


@pytest.mark.parametrize("name", EVERY_HOME)
def test_every_step_can_be_played_forward_and_back(name: str, client: Client, jobs: Jobs) -> None:
    steps = jobs.design(name).chosen.wiring.steps

    for step in steps:
        text = client.get(f"/jobs/{name}/on-site?step={step.number}").text
        assert headings(text) == [step.title]
        assert f"Step {step.number} of {len(steps)}" in words(text)
        assert (f'rel="prev" href="?step={step.number - 1}"' in text) is (step.number > 1)
        assert (f'rel="next" href="?step={step.number + 1}"' in text) is (step.number < len(steps))
        if step.caution:
            assert words(step.caution) in words(text)


def test_a_wiring_step_closes_in_on_its_own_conductor(client: Client, jobs: Jobs) -> None:
    variant = jobs.design("semi").chosen
    step = next(s for s in variant.wiring.steps if s.conductors == ("spd-pe",))
    lead = next(c for c in variant.wiring.conductors if c.id == "spd-pe")
    height_mm = variant.arrangement.enclosure.height_mm

    text = client.get(f"/jobs/semi/on-site?step={step.number}").text

    box = re.search(r'<svg [^>]*id="board"[^>]*viewBox="([^"]+)"', text)
    assert box is not None
    x, y, width, height = (float(part) for part in box[1].split())
    for px, py, _ in lead.path:
        assert x + 19.9 <= px <= x + width - 19.9
        assert y + 19.9 <= height_mm - py <= y + height - 19.9
    assert width < variant.arrangement.enclosure.width_mm / 2
    assert re.findall(r'class="wire[^"]* now" data-wire="([^"]+)"', text) == ["spd-pe"]
    assert str(round(lead.length_mm)) in words(text)


def test_a_stop_stands_above_all_else_and_cannot_be_folded(folder: Path) -> None:
    job = folder / "semi.yaml"
    text = job.read_text(encoding="utf-8")
    refused = "means_present: no\n  owner_refuses_upgrade: yes"
    job.write_text(text.replace("means_present: yes", refused), encoding="utf-8")
    client = Client(create_app(Jobs(folder)))

    for page in ("design", "board", "surge", "on-site", "handover"):
        answered = client.get(f"/jobs/semi/{page}").text
        main = answered.partition("<main")[2]

        assert main.count('<section class="box stop"') == 1, page
        assert main.index('<section class="box stop"') < main.index("<h1>"), page
        assert "<details" not in main.partition("<h1>")[0], page


def test_the_design_file_is_the_command_lines(client: Client, jobs: Jobs) -> None:
    answered = client.get("/api/jobs/semi/design")

    assert answered.headers["content-type"] == "application/json"
    assert answered.text == design_json(jobs.design("semi"))
    assert json.loads(answered.text)["edition"]


def test_every_paper_of_the_shelf_is_handed_out(client: Client, jobs: Jobs) -> None:
    listed = client.get("/jobs/semi/handover").text

    for document in shelf():
        answered = client.get(f"/jobs/semi/papers/{document.file}")
        made = document.build(jobs.design("semi"))

        assert f'/papers/{document.file}"' in listed
        assert answered.content == (made.encode() if isinstance(made, str) else made)
        assert f'filename="semi-{document.file}"' in answered.headers["content-disposition"]


def test_the_first_page_lists_every_home(client: Client, jobs: Jobs) -> None:
    text = client.get("/").text

    assert headings(text) == ["Five homes in this folder."]
    for name in NAMES:
        assert jobs.load(name).title in text
        assert f'href="/jobs/{name}/board"' in text


def test_a_small_drawing_takes_the_chosen_look(client: Client) -> None:
    drawing = client.get("/jobs/semi/small.svg?look=dark")

    assert drawing.headers["content-type"] == "image/svg+xml"
    assert '<svg data-theme="dark" data-contrast="normal"' in drawing.text
    assert "data-theme=" not in client.get("/jobs/semi/small.svg").text.partition("<style>")[0]


def test_survey_tells_known_assumed_and_unknown_apart(client: Client, jobs: Jobs) -> None:
    text = client.get("/jobs/semi/survey").text
    rows = {
        words(label): (state, words(value))
        for state, label, value in re.findall(
            r'<div class="(known|assumed|unknown)"><dt>(.*?)</dt><dd>(.*?)</dd>', text, re.DOTALL
        )
    }

    assert rows["External loop impedance Ze"] == ("known", "0.21 Ω")
    assert rows["Prospective fault current Ipf"] == ("known", "1.25 kA")
    assert rows["Service cable, length"] == ("assumed", "9 m assumed")
    assert rows["Continuity measured, clamp seen"][0] == "unknown"
    for title in ("Supply", "Earthing and bonding", "Environment", "Premises", "Circuits"):
        assert f">{title}</h2>" in text
    for circuit in jobs.load("semi").circuits:
        assert f"<h3>{circuit.name}</h3>" in text


def test_a_home_opens_at_its_board(client: Client) -> None:
    answered = client.get("/jobs/semi")

    assert (answered.status_code, answered.headers["location"]) == (303, "/jobs/semi/board")


def test_one_file_alone_is_a_folder_of_one() -> None:
    client = Client(create_app(Jobs(HOMES / "semi.yaml")))

    assert headings(client.get("/").text) == ["One home in this folder."]
    assert client.get("/jobs/flat/survey").status_code == 404


def test_an_empty_folder_says_how_to_begin(tmp_path: Path) -> None:
    text = Client(create_app(Jobs(tmp_path))).get("/").text

    assert headings(text) == ["There is no job in this folder yet."]
    assert "boardwright new" in text
