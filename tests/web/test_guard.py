"""Who may ask, what the browser may do, and what a hostile file or address brings about."""

from __future__ import annotations

import base64
import hashlib
import re
import socket
from pathlib import Path

import pytest

from boardwright.core.errors import BoardwrightError, FileError
from boardwright.design import Design, Told
from boardwright.job.job import Job
from boardwright.store.store import open_store
from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs
from boardwright.web.look.choice import way_back
from boardwright.web.server.serve import PortError, run
from tests.web.client import Client, headings, words
from tests.web.conftest import homes_of

HOSTILE = '</title><script>alert("x")</script><b onload=x>{{7*7}}&amp;'


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.1:8047", "localhost:8047", "[::1]:8047"])
def test_this_machine_is_answered(host: str, client: Client) -> None:
    assert client.get("/", {"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "example.com",
        "127.0.0.1.example.com",
        "localhost.example.com:80",
        "[::2]",
        "",
        "a@localhost",
        "127.0.0.1:",
        "127.0.0.1:123456",
        "127.0.0.1:8047:8047",
        "[::1",
        "::1",
        "[::1]x:80",
    ],
)
def test_any_other_name_is_refused(host: str, client: Client) -> None:
    refused = client.get("/jobs/semi/survey", {"host": host})

    assert refused.status_code == 400
    assert "3 Alder Close" not in refused.text


@pytest.mark.parametrize("path", ["/", "/jobs/semi/survey", "/jobs/none/board", "/static/page.css"])
def test_every_answer_carries_its_headers(path: str, client: Client) -> None:
    headers = client.get(path).headers

    assert headers["x-content-type-options"] == "nosniff"
    # With no-referrer a form of this page itself would come from "null" (Fetch, "append a request
    # Origin header").
    assert headers["referrer-policy"] == "same-origin"
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy


@pytest.mark.parametrize(("view", "count"), [("off", 1), ("on", 2), ("line", 1)])
def test_only_the_drawings_own_style_passes_the_policy(
    view: str, count: int, client: Client
) -> None:
    answered = client.get(f"/jobs/semi/board?view={view}")
    styles = re.findall(r"<style>(.*?)</style>", answered.text, re.DOTALL)
    hashes = {
        base64.b64encode(hashlib.sha256(style.encode()).digest()).decode() for style in styles
    }

    assert len(styles) == count
    assert (
        set(re.findall(r"'sha256-([^']+)'", answered.headers["content-security-policy"])) == hashes
    )
    assert "<script>" not in answered.text


def test_a_hostile_title_is_text_and_nothing_else(folder: Path) -> None:
    job = folder / "semi.yaml"
    text = job.read_text(encoding="utf-8")
    title = HOSTILE.replace("'", "''")
    job.write_text(
        text.replace("title: 3 Alder Close", f"title: '{title}'")
        .replace("name: Cooker", "name: '<img src=x onerror=y>'")
        .replace("board_place: cupboard under the stairs", "board_place: '\"><script>z</script>'"),
        encoding="utf-8",
    )
    client = Client(create_app(homes_of(folder)))

    for page in (
        "/",
        "/jobs/semi/survey",
        "/jobs/semi/design",
        "/jobs/semi/board",
        "/jobs/semi/on-site?step=20",
    ):
        text = client.get(page).text
        assert not re.search(r"<script>|<img src=x|<b onload|\b49\b&amp;", text), page
        assert HOSTILE in words(re.sub(r"<title>.*?</title>", "", text)), page


def test_a_file_with_errors_says_each_and_where(folder: Path) -> None:
    job = folder / "bad.yaml"
    good = (folder / "semi.yaml").read_text(encoding="utf-8")
    job.write_text(
        good.replace("ze_ohm: 0.21", "ze_ohm: '0,21'").replace("phases: 1", "phases: 7"),
        encoding="utf-8",
    )
    client = Client(create_app(homes_of(folder)))

    for page in ("survey", "board", "design", "on-site"):
        answered = client.get(f"/jobs/bad/{page}")
        assert answered.status_code == 422
        read = words(answered.text)
        assert "supply.ze_ohm: found '0,21'" in read
        assert "supply.phases: found 7" in read
        assert "bad.yaml, line" in read
        assert "Traceback" not in read
    listed = words(client.get("/").text)
    assert "supply.ze_ohm: found '0,21'" in listed
    assert "3 Alder Close" in listed
    api = client.get("/api/jobs/bad/design")
    assert api.status_code == 422
    assert any("supply.ze_ohm" in sentence for sentence in api.json()["details"])


def test_an_edit_of_the_file_shows_at_once(folder: Path) -> None:
    client = Client(create_app(homes_of(folder)))
    assert "3 Alder Close" in client.get("/jobs/semi/survey").text
    job = folder / "semi.yaml"

    job.write_text(
        job.read_text(encoding="utf-8").replace("3 Alder Close", "9 Alder Close"), encoding="utf-8"
    )

    assert "9 Alder Close" in client.get("/jobs/semi/survey").text


@pytest.mark.parametrize(
    "path",
    [
        "/jobs/none/survey",
        "/jobs/..%2fsecret/survey",
        "/jobs/%2e%2e%2fsecret/survey",
        "/jobs/secret/survey",
        "/jobs/semi.yaml/survey",
        "/jobs/semi/papers/nothing.txt",
        "/jobs/semi/papers/..%2f..%2fsecret.yaml",
        "/static/..%2fapp.py",
        "/nowhere",
    ],
)
def test_what_is_not_listed_is_not_found(path: str, folder: Path) -> None:
    inside = folder / "jobs"
    inside.mkdir()
    (folder / "semi.yaml").rename(inside / "semi.yaml")
    (folder / "secret.yaml").write_text("title: secret", encoding="utf-8")
    answered = Client(create_app(homes_of(inside))).get(path)

    assert answered.status_code == 404
    assert len(headings(answered.text)) == 1
    assert "/static/page.css" in answered.text


@pytest.mark.parametrize(("step", "said"), [("0", "1 to"), ("9999", "1 to"), ("x", "'x'")])
def test_a_step_that_is_none_is_told(step: str, said: str, client: Client) -> None:
    answered = client.get(f"/jobs/semi/on-site?step={step}")

    assert answered.status_code == 422
    assert said in words(answered.text)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("view=inside", "view: found 'inside', expected off, on, line or wires"),
        ("zoom=120", "zoom: found 120, expected 0, 100, 150, 200 or 300"),
        ("zoom=near", "'near'"),
    ],
)
def test_a_picture_that_is_none_is_told(asked: str, said: str, client: Client) -> None:
    answered = client.get(f"/jobs/semi/board?{asked}")

    assert answered.status_code == 422
    assert said in words(answered.text)


def test_the_look_is_kept_and_wins(client: Client) -> None:
    assert "data-theme" not in client.get("/jobs/semi/survey").text.partition("<head>")[0]

    chosen = client.post("/look", {"look": "high-dark", "back": "/jobs/semi/survey"})
    shown = client.get("/jobs/semi/survey").text

    assert (chosen.status_code, chosen.headers["location"]) == (303, "/jobs/semi/survey")
    cookie = chosen.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert '<html lang="en-GB" data-theme="dark" data-contrast="high">' in shown
    assert '<button name="look" value="high-dark" aria-pressed="true">' in shown


def test_a_form_of_another_site_changes_nothing(client: Client) -> None:
    refused = client.post("/look", {"look": "dark"}, {"sec-fetch-site": "cross-site"})

    assert refused.status_code == 403
    assert "set-cookie" not in refused.headers


@pytest.mark.parametrize(
    ("asked", "goes"),
    [
        ("/jobs/semi/board?step=2", "/jobs/semi/board?step=2"),
        ("//example.com/", "/"),
        ("/\\example.com", "/"),
        ("https:" + "//example.com/", "/"),
        ("javascript:alert(1)", "/"),
        ("/a\r\nset-cookie: x=y", "/"),
        ("//[", "/"),
    ],
)
def test_the_way_back_stays_on_this_page(asked: str, goes: str) -> None:
    assert way_back(asked) == goes


def test_a_fault_of_the_program_shows_no_machinery(folder: Path) -> None:
    class Broken(Jobs):
        def designed(self, job: Job, told: Told = lambda _words, _fraction: None) -> Design:
            raise RuntimeError(f"secret of {job.title}, {told}")

    store = open_store(folder.parent / "jobs.db")

    for path in ("/jobs/semi/board", "/api/jobs/semi/design"):
        answered = Client(create_app(Broken(store, folder))).get(path)
        assert answered.status_code == 500
        assert "secret" not in answered.text
        assert "This page could not be made." in answered.text
        assert answered.headers["x-content-type-options"] == "nosniff"


def test_a_folder_that_goes_away_is_told_until_it_is_back(folder: Path) -> None:
    client = Client(create_app(homes_of(folder)))
    (folder / "gone.yaml").symlink_to(folder / "nowhere.yaml")
    assert client.get("/jobs/semi/survey").status_code == 200
    away = folder.rename(folder.with_name("elsewhere"))

    told = client.get("/jobs/semi/survey")

    assert told.status_code == 422
    assert f"{folder}: no such folder." in told.text
    away.rename(folder)
    assert client.get("/jobs/semi/survey").status_code == 200


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="no such folder or job file"):
        homes_of(tmp_path / "none")


def test_a_taken_port_is_one_sentence(folder: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]

        with pytest.raises(PortError, match=f"found {port}.*another program has it") as told:
            run(folder, port)

    assert isinstance(told.value, BoardwrightError)
    assert "\n" not in str(told.value)


def test_the_page_is_light(client: Client) -> None:
    # The quality bar of issue 6: under 100 KB compressed, the typeface and sheet included.
    import zlib

    parts = ["/", "/static/page.css", "/static/board.js", "/static/mark.svg"]
    packed = sum(len(zlib.compress(client.get(part).content)) for part in parts)
    typeface = len(client.get("/static/plex.woff2").content)

    assert packed + typeface < 100_000


def test_the_sheet_has_no_colour_of_its_own() -> None:
    sheet = Path(__file__).parents[2] / "src/boardwright/web/static/page.css"
    text = re.sub(r"/\*.*?\*/", "", sheet.read_text(encoding="utf-8"), flags=re.DOTALL)

    assert not re.search(r"#[0-9a-fA-F]{3,8}\b(?![^{]*\{)|rgb|hsl|gradient|box-shadow", text)


def test_the_sheet_uses_only_tokens_that_exist(client: Client) -> None:
    text = client.get("/static/page.css").text
    known = set(re.findall(r"(--[\w-]+):", text))

    assert set(re.findall(r"var\((--[\w-]+)", text)) - known == set()
