"""The first minute: an empty start, the three ways to begin, the list of homes."""

from __future__ import annotations

import re
import shutil
import time
from pathlib import Path

import pytest

from boardwright.job.begin import ADDED, BOARDS, KINDS, SERVICES, SYSTEMS, Answers, begun, id_of
from boardwright.job.read import parse_job
from boardwright.store.records import Stamp
from boardwright.store.store import open_store
from boardwright.web.app import create_app
from boardwright.web.homes.examples import examples
from boardwright.web.homes.jobs import Jobs
from boardwright.web.working.disk import Disk
from tests.habits.source import ROOT
from tests.web.client import HERE, Client, headings, words
from tests.web.conftest import HOMES

ANSWERS = {"kind": "flat", "service": "overhead", "system": "", "board": "new", "title": ""}


@pytest.fixture
def empty(tmp_path: Path) -> Jobs:
    return Jobs(open_store(tmp_path / "jobs.db"))


@pytest.fixture
def page(empty: Jobs) -> Client:
    return Client(create_app(empty))


def bring(page: Client, content: bytes, name: str = "mine.yaml") -> tuple[int, str, str]:
    edge = "x" * 20
    head = f'--{edge}\r\ncontent-disposition: form-data; name="file"; filename="{name}"\r\n\r\n'
    body = head.encode() + content + f"\r\n--{edge}--\r\n".encode()
    headers = {"origin": HERE, "content-type": f"multipart/form-data; boundary={edge}"}
    answered = page.send("POST", "/start/file", body, headers)
    return answered.status_code, answered.headers.get("location", ""), words(answered.text)


def test_an_empty_start_offers_three_ways(page: Client) -> None:
    shown = page.get("/")

    assert headings(shown.text) == ["There is no home here yet. Begin one."]
    assert {f"/start/examples/{name}/card" for name in examples()} <= set(
        re.findall(r'data-card="([^"]+)"', shown.text)
    )
    for way in ("/start/answers", "/start/example", "/start/file"):
        assert f'action="{way}"' in shown.text


def test_the_examples_are_those_of_the_repository() -> None:
    here = {path.stem: path.read_text(encoding="utf-8") for path in HOMES.glob("*.yaml")}

    assert examples() == here


@pytest.mark.slow
def test_an_installed_program_has_the_examples(tmp_path: Path) -> None:
    import zipfile

    from flit_core import buildapi  # type: ignore[import-untyped]

    monkey = pytest.MonkeyPatch()
    monkey.chdir(ROOT)
    name = buildapi.build_wheel(str(tmp_path))
    monkey.undo()
    with zipfile.ZipFile(tmp_path / name) as wheel:
        found = {
            Path(each).stem: wheel.read(each).decode()
            for each in wheel.namelist()
            if "example_homes" in each
        }

    assert found == examples()


def test_three_answers_make_a_home_to_survey(page: Client, empty: Jobs) -> None:
    begun_at = page.post("/start/answers", {**ANSWERS, "title": "7 Mill Lane", "added": "ev"})

    assert (begun_at.status_code, begun_at.headers["location"]) == (303, "/jobs/7-mill-lane/survey")
    job = empty.load("7-mill-lane")
    assert (job.premises.kind, job.supply.service, job.supply.system) == (
        "flat",
        "overhead",
        "TN-C-S",
    )
    assert "supply.system" in job.assumed
    assert job.supply.ze_ohm is None
    (change,) = empty.store.history("7-mill-lane")
    assert change.stamp.why == "begun from three answers"


def test_a_second_home_of_a_name_gets_an_id_of_its_own(page: Client) -> None:
    first = page.post("/start/answers", ANSWERS).headers["location"]
    second = page.post("/start/answers", ANSWERS).headers["location"]

    assert (first, second) == ("/jobs/home/survey", "/jobs/home-2/survey")


@pytest.mark.parametrize("field", ["kind", "service", "system", "board", "added"])
def test_an_answer_that_is_none_is_told(field: str, page: Client) -> None:
    answered = page.post("/start/answers", {**ANSWERS, field: "../x"})

    assert answered.status_code == 422
    assert f"{field}: found '../x', expected one of" in words(answered.text)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("board", BOARDS)
def test_every_answer_makes_a_job(kind: str, system: str, board: str, empty: Jobs) -> None:
    for service in SERVICES:
        answers = Answers("A home", kind, service, system, board, ADDED)
        job = parse_job(begun(answers, "a-home", empty.now().date()), "a-home")

        assert job.supply.service == (service or None)
        assert ("supply.system" in job.assumed) is (system == "")
        assert (job.existing_board is None) is (board == "new")
        assert {"shower", "ev"} <= {circuit.id for circuit in job.circuits}


def test_every_assumed_path_is_a_field_that_is_there(empty: Jobs) -> None:
    job = parse_job(begun(Answers("A", "house", "", "", "compare"), "a", empty.now().date()), "a")
    said = job.model_dump()

    for path in job.assumed:
        node: object = said
        for step in path.split("."):
            if isinstance(node, dict):
                node = node[step]
            else:
                assert isinstance(node, list | tuple)
                node = next(item for item in node if item["id"] == step)
        assert node is not None, path


@pytest.mark.parametrize(
    ("title", "made"),
    [("7 Mill Lane", "7-mill-lane"), ("Åse's", "se-s"), ("", "home"), ("x" * 99, "x" * 30)],
)
def test_a_title_suggests_an_id(title: str, made: str) -> None:
    assert id_of(title) == made


def test_an_example_is_opened_as_a_copy(page: Client, empty: Jobs) -> None:
    first = page.post("/start/example", {"name": "semi"})
    second = page.post("/start/example", {"name": "semi"})

    assert first.headers["location"] == "/jobs/semi/board"
    assert second.headers["location"] == "/jobs/semi-2/board"
    assert empty.version("semi").text == examples()["semi"]
    assert page.post("/start/example", {"name": "../semi"}).status_code == 422


def test_a_job_file_is_brought(page: Client, empty: Jobs) -> None:
    content = (HOMES / "flat.yaml").read_bytes()

    assert bring(page, content, "..\\..\\flat.yaml")[:2] == (303, "/jobs/flat/survey")
    assert empty.version("flat").text.encode() == content
    assert empty.store.history("flat")[0].stamp.why == "brought as flat.yaml"
    status, _, said = bring(page, content)
    assert status == 422
    assert "id: found 'flat', expected an id that no job of the store has yet" in said


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "expected"),
        (b"title: x\n\ta: b", "line 2"),
        (b"ok: 1\n\xff\xfe", "mine.yaml, line 2: expected text in UTF-8"),
        (b"&a [*a, *a]", "expected"),
        (b"- " * 5000, "expected"),
        (b"<script>alert(1)</script>", "expected"),
    ],
)
def test_a_file_that_is_no_job_is_told_by_line(content: bytes, said: str, page: Client) -> None:
    status, _, shown = bring(page, content)

    assert status == 422
    assert said in shown
    assert "Traceback" not in shown


def test_what_is_wrong_in_a_file_is_told_where(page: Client) -> None:
    text = (HOMES / "semi.yaml").read_text(encoding="utf-8")
    line = text[: text.index("ze_ohm")].count("\n") + 1

    status, _, shown = bring(page, text.replace("ze_ohm: 0.21", "ze_ohm: '0,21'").encode())

    assert status == 422
    assert f"line {line}: supply.ze_ohm: found '0,21'" in shown


def test_a_home_is_put_away_and_taken_out(page: Client, empty: Jobs) -> None:
    page.post("/start/example", {"name": "semi"})
    page.post("/start/example", {"name": "flat"})

    page.post("/jobs/semi/away", {"gone": "true"})
    listed, away = page.get("/").text, page.get("/away").text

    assert "3 Alder Close" not in words(listed)
    assert "1 put away" in words(listed)
    assert "3 Alder Close" in words(away)
    page.post("/jobs/semi/away", {"gone": "false"})
    assert "3 Alder Close" in words(page.get("/").text)
    assert len(empty.store.history("semi")) == 1


def test_the_list_finds_and_turns_pages(page: Client, empty: Jobs) -> None:
    text = (HOMES / "flat.yaml").read_text(encoding="utf-8")
    for number in range(1, 27):
        stamp = Stamp("nobody", "begun", empty.now())
        empty.store.create(
            text.replace("id: flat", f"id: flat-{number}").replace("61 Quay", f"{number} Quay"),
            stamp,
        )

    first, second = page.get("/").text, page.get("/?page=2").text

    assert (first.count('class="whole"'), second.count('class="whole"')) == (24, 2)
    assert headings(page.get("/?find=26+quayside").text) == ["One home found."]
    assert headings(page.get("/?find=nowhere").text) == ["No home is found."]
    assert page.get("/?page=999999").status_code == 200
    assert page.get("/?page=x").status_code == 422


def test_a_card_is_filled_behind_the_list(page: Client) -> None:
    page.post("/start/example", {"name": "semi"})
    assert 'data-card="/jobs/semi/card"' in page.get("/").text
    empty_board = page.get("/jobs/semi/small.svg").text

    end = time.monotonic() + 60
    while not page.get("/jobs/semi/card").json()["drawn"] and time.monotonic() < end:
        time.sleep(0.2)

    drawn = page.get("/jobs/semi/small.svg").text
    assert len(drawn) > 10 * len(empty_board) or "data-item" in drawn
    shown = page.get("/").text
    assert "data-card" not in shown
    assert "House, TN-C-S, single-phase" in words(shown)


def test_a_board_that_is_not_drawn_is_a_picture_all_the_same(page: Client) -> None:
    from xml.etree import ElementTree as ET

    for look in ("system", "high-dark", "none"):
        shown = page.get(f"/start/examples/semi/small.svg?look={look}")
        assert shown.headers["cache-control"] == "no-store"
        assert ET.fromstring(shown.text).tag.endswith("svg")  # noqa: S314 - our own


def test_what_is_kept_on_disk_outlives_the_server_and_has_an_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("boardwright.web.working.disk.KEPT", 20)
    monkeypatch.setattr("boardwright.web.working.disk._TRIMMED_BY", 5)
    Disk(tmp_path / "small").keep("a" * 64, "kept")
    assert Disk(tmp_path / "small").get("a" * 64) == "kept"

    for number in range(40):
        Disk(tmp_path / "small").keep(f"{number:064}", "x")

    assert len(list((tmp_path / "small").iterdir())) <= 20
    shutil.rmtree(tmp_path / "small")
    assert Disk(tmp_path / "small").get("a" * 64) is None
