"""Every page of every home: it answers in one sentence, in the papers' own figures."""

from __future__ import annotations

import html
import json
import re
import shutil
import time
from collections.abc import Iterable
from pathlib import Path

import pytest

from boardwright.documents.pack.schedules import circuits as circuit_schedule
from boardwright.documents.pack.schemes_page import content
from boardwright.documents.record.design_file import build as design_json
from boardwright.documents.shelf import shelf
from boardwright.documents.words.answer import answer
from boardwright.documents.workings.workings import Row, rows, shared_rows
from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs
from boardwright.wiring.results import Origin
from tests.web.client import Client, headings, words
from tests.web.conftest import HOMES, homes_of

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
    # The paper lists the ways in their order, the table the circuits as they are listed in the job.
    found = {row.split('data-row="')[1].split('"')[0]: row for row in rows}
    printed = circuit_schedule(jobs.design(name))["rows"]

    assert len(rows) == len(printed)
    for paper in printed:
        row = found[html.escape(paper[1])]
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
    client = Client(create_app(homes_of(folder)))

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


@pytest.mark.parametrize("name", EVERY_HOME)
def test_every_figure_of_a_circuit_opens_to_the_librarys_working(
    name: str, client: Client, jobs: Jobs
) -> None:
    design = jobs.design(name)
    text = client.get(f"/jobs/{name}/design").text
    folded = dict(
        re.findall(r'<div class="workings" id="working-([^"]+)">(.*?)</details>', text, re.DOTALL)
    )

    assert "<details open" not in text
    for circuit in design.job.circuits:
        _holds_each(rows(design, circuit.id), words(folded[circuit.id]))
    shared = " ".join(words(folded.get(part, "")) for part in ("supply", "demand", "surge"))
    _holds_each(shared_rows(design), shared)


def _holds_each(sums: Iterable[Row], read: str) -> None:
    for row in sums:
        said = (row.says, row.value, row.in_signs, row.in_figures, row.note)
        assert [part for part in said if words(part) not in read] == [], row


@pytest.mark.parametrize(
    ("view", "drawn"),
    [("off", "board"), ("on", "cover"), ("line", "single-line"), ("wires", "wiring-diagram")],
)
def test_the_board_is_shown_in_three_ways_by_links(view: str, drawn: str, client: Client) -> None:
    text = client.get(f"/jobs/semi/board?view={view}").text

    assert re.findall(r'<svg [^>]*\bid="([^"]+)"', text) == [drawn]
    assert re.findall(r'href="\?view=(\w+)#drawing" aria-current', text) == [view]
    assert re.findall(r'href="\?view=(\w+)#drawing"', text) == ["off", "on", "line", "wires"]
    # A row leads to its wire from each of them.
    rows_to = re.findall(r'href="([^"#]*)#wire-spd-pe"', text)
    assert rows_to == ["" if view == "off" else "?view=off"]


@pytest.mark.parametrize("view", ["off", "on", "line", "wires"])
def test_plus_and_minus_lead_through_every_size(view: str, client: Client) -> None:
    least = []
    path: str | None = f"?view={view}&zoom=0#drawing"
    while path:
        text = client.get(f"/jobs/semi/board{path}").text
        found = re.search(r'class="least phone" width="(\d+)"', text)
        assert found is not None
        least.append(int(found[1]))
        nearer = re.search(r'href="([^"]+)" aria-label="Larger"', text)
        path = html.unescape(nearer[1]) if nearer else None
        back = re.search(r'href="([^"]+)" aria-label="Smaller"', text)
        assert (back is None) is (len(least) == 1)

    assert len(least) == len(set(least)) == 5
    assert least == sorted(least)
    assert least[0] == 0, "the whole in one look"


@pytest.mark.parametrize("name", EVERY_HOME)
def test_each_scheme_stands_beside_the_others_with_what_counts(
    name: str, client: Client, jobs: Jobs
) -> None:
    design = jobs.design(name)
    text = client.get(f"/jobs/{name}/board").text
    part = text.partition('id="schemes"')[2]
    columns = re.split(r'<section class="scheme', part)[1:]
    printed = content(design)

    assert len(columns) == len(design.variants)
    for column, scheme in zip(columns, printed["schemes"], strict=True):
        read = words(column)
        said = [scheme["name"], scheme["untouched"], *(f"{k} {v}" for k, v in scheme["facts"])]
        said += [point[key] for point in scheme["against"] for key in ("subjects", "said", "do")]
        assert [each for each in said if words(each) not in read] == []
        assert (" proposed" in column.partition(">")[0]) is scheme["proposed"]
    labels = [re.findall(r"<dt>(.*?)</dt>", column) for column in columns]
    assert all(each == labels[0] for each in labels), "one row a fact"
    for scheme_name, why in printed["out"]:
        assert words(f"{scheme_name}. {why}") in words(part)


def test_binary_papers_come_with_their_type(client: Client) -> None:
    # Media types as IANA registers them.
    kinds = {"schemes.pdf": "application/pdf", "board.dxf": "image/vnd.dxf"}

    for file, kind in kinds.items():
        assert client.get(f"/jobs/semi/papers/{file}").headers["content-type"] == kind
    assert client.get("/jobs/semi/papers/schemes.pdf").content.startswith(b"%PDF-")


def test_each_paper_says_in_a_sentence_what_it_is(client: Client) -> None:
    listed = client.get("/jobs/semi/handover").text
    said = [words(found) for found in re.findall(r'<span class="about">(.*?)</span>', listed)]

    assert len(said) == len(shelf())
    assert len(set(said)) == len(said)
    assert [each for each in said if not re.fullmatch(r"[A-Z].{15,110}\.", each)] == []


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

    assert headings(text) == ["Five homes."]
    for name in NAMES:
        assert jobs.load(name).title in text
        assert f'href="/jobs/{name}/board"' in text


def test_a_small_drawing_takes_the_chosen_look(client: Client) -> None:
    end = time.monotonic() + 60
    while not client.get("/jobs/semi/card").json()["drawn"] and time.monotonic() < end:
        time.sleep(0.1)
    drawing = client.get("/jobs/semi/small.svg?look=dark")

    assert drawing.headers["content-type"] == "image/svg+xml"
    assert "data-item" in drawing.text
    assert '<svg data-theme="dark" data-contrast="normal"' in drawing.text
    assert "data-theme=" not in client.get("/jobs/semi/small.svg").text.partition("<style>")[0]


def test_survey_tells_known_assumed_and_unknown_apart(client: Client, jobs: Jobs) -> None:
    states: dict[str, tuple[str, str]] = {}
    for key in ("supply", "earthing", "circuits"):
        text = client.get(f"/jobs/semi/survey/{key}").text
        states |= {
            path: (state, value)
            for state, path, value in re.findall(
                r'<div class="field (\w+)" data-path="([^"]+)".*?data-kept="([^"]*)"', text
            )
        }

    assert states["supply.ze_ohm"] == ("known", "0.21")
    assert states["supply.ipf_a"] == ("known", "1.25")
    assert states["supply.service_length_m"] == ("assumed", "9")
    assert states["earthing.bonds.gas.verified"] == ("unknown", "")
    for circuit in jobs.load("semi").circuits:
        assert f'<span class="name">{circuit.name}</span>' in text


def test_a_home_opens_at_its_board(client: Client) -> None:
    answered = client.get("/jobs/semi")

    assert (answered.status_code, answered.headers["location"]) == (303, "/jobs/semi/board")


def test_one_file_alone_is_a_folder_of_one(folder: Path) -> None:
    shutil.copy(HOMES / "flat.yaml", folder)
    client = Client(create_app(homes_of(folder / "semi.yaml")))

    assert headings(client.get("/").text) == ["One home."]
    assert client.get("/jobs/flat/survey").status_code == 404


def test_an_empty_folder_says_how_to_begin(folder: Path) -> None:
    (folder / "semi.yaml").unlink()
    text = Client(create_app(homes_of(folder))).get("/").text

    assert headings(text) == ["There is no home here yet. Begin one."]
    assert 'action="/start/answers"' in text
