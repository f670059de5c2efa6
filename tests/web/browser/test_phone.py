"""The phone in the cupboard: answers as they are typed, without signal, through a dead battery."""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from playwright.sync_api import (
    BrowserContext,
    Page,
    Playwright,
    ViewportSize,
    expect,
)

from tests.web.browser.conftest import CHROMIUM, FLAGS, PATIENCE_MS, SIZES, until
from tests.web.browser.server import Server

pytestmark = pytest.mark.browser

LONG = 4 * PATIENCE_MS
"""The queue asks again after up to a minute where nothing answered. [ms]"""


@pytest.fixture
def server(folder: Path) -> Iterator[Server]:
    server = Server(folder)
    server.start()
    yield server
    server.kill()


class Phone:
    """A browser with a memory of its own, that can be shut and opened again."""

    def __init__(self, playwright: Playwright, profile: Path, base: str) -> None:
        self.playwright = playwright
        self.profile = profile
        self.base = base
        self.context: BrowserContext | None = None

    def open(self, path: str) -> Page:
        """Open the browser anew at a page; what it kept is there."""
        self.shut()
        size: ViewportSize = {"width": 390, "height": SIZES[390]}
        self.context = self.playwright.chromium.launch_persistent_context(
            self.profile, executable_path=CHROMIUM, args=FLAGS, viewport=size
        )
        self.context.set_default_timeout(2 * PATIENCE_MS)
        page = self.context.pages[0]
        page.goto(f"{self.base}{path}")
        _ready(page)
        return page

    def shut(self) -> None:
        if self.context:
            self.context.close()
            self.context = None


@pytest.fixture
def phone(playwright: Playwright, tmp_path: Path, server: Server) -> Iterator[Phone]:
    phone = Phone(playwright, tmp_path / "profile", server.base)
    yield phone
    phone.shut()


def _job(server: Server) -> Any:  # noqa: ANN401 - the JSON of a job
    return httpx.get(f"{server.base}/api/jobs/semi", timeout=LONG / 1000).json()


def _ready(page: Page) -> None:
    """Wait until the page's scripts are there, as before a person's first touch."""
    expect(page.locator("body")).to_have_attribute("data-ready", "yes")


def _saved(page: Page) -> None:
    expect(page.locator("#saved")).to_have_text(re.compile(r"^Saved \d"), timeout=LONG)


def _comes(server: Server, path: str, value: object) -> None:
    """Wait until the server has an answer."""

    def is_there() -> bool:
        found = _job(server)["job"]
        for key in path.split("."):
            found = found[key]
        return bool(found == value)

    until(is_there)


def _type(page: Page, path: str, typed: str) -> None:
    page.locator(f'[name="{path}"]').fill(typed)


def _kept(page: Page) -> None:
    """Wait until the whole home is on the device."""
    expect(page.locator("body")).to_have_attribute(
        "data-kept", re.compile(r"\d+"), timeout=2 * LONG
    )


def test_an_answer_is_saved_as_it_is_typed(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/supply")

    _type(page, "supply.ze_ohm", "0.5")
    note = page.locator('[data-path="supply.ze_ohm"] .says')
    expect(note).to_contain_text("Fail Ze 0.5 Ω is over the declared 0.35 Ω")
    _comes(server, "supply.ze_ohm", 0.5)
    _saved(page)

    expect(page.locator("body")).to_have_attribute("data-version", str(_job(server)["version"]))


def test_a_wrong_answer_stays_and_is_told_beside_its_field(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/supply")

    _type(page, "supply.ze_ohm", "0,31")
    field = page.locator('[data-path="supply.ze_ohm"]')
    expect(field.locator(".is-wrong")).to_contain_text("Write 0.31 with a point.")
    expect(page.locator("#saved")).to_have_text("1 not saved")
    page.reload()

    expect(field.locator("input[type=text]")).to_have_value("0,31")
    expect(field.locator(".is-wrong")).to_contain_text("0,31")
    assert _job(server)["job"]["supply"]["ze_ohm"] == 0.21


def test_what_the_server_refuses_is_told_beside_its_field(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/premises")

    _type(page, "designed_on", "yesterday")
    field = page.locator('[data-path="designed_on"]')
    expect(field.locator(".is-wrong")).to_contain_text("year-month-day")
    expect(page.locator("#saved")).to_have_text("1 not saved")
    _type(page, "premises.board_place", "hall")
    page.locator("h1").click()
    expect(page.locator("#saved")).to_have_text("1 not saved")
    _type(page, "designed_on", "2026-11-24")

    _comes(server, "designed_on", "2026-11-24")
    _comes(server, "premises.board_place", "hall")
    _saved(page)


def test_not_known_yet_keeps_what_was_typed_in_sight(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/supply")
    field = page.locator('[data-path="supply.ze_ohm"]')

    field.locator(".blank").click()
    _comes(server, "supply.ze_ohm", None)
    _saved(page)
    expect(field.locator("input[type=text]")).to_have_value("0.21")

    _type(page, "supply.ze_ohm", "0.22")
    expect(field.locator("[name=unknown]")).not_to_be_checked()
    expect(field.locator(".says")).to_contain_text("Within Ze 0.22 Ω")
    _comes(server, "supply.ze_ohm", 0.22)


def test_answers_survive_a_dead_server_and_a_dead_battery(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/supply")
    _kept(page)

    server.kill()
    _type(page, "supply.ze_ohm", "0.24")
    _type(page, "supply.tails.length_m", "1.9")
    expect(page.locator("#saved")).to_have_text("2 waiting to send")
    page.get_by_role("button", name="Next").click()
    expect(page.locator("h1")).to_have_text("Earthing and bonding")
    _ready(page)
    page.locator('[data-path="earthing.bonds.gas.verified"] label', has_text="yes").click()
    expect(page.locator("#saved")).to_have_text("3 waiting to send")

    page = phone.open("/jobs/semi/survey/supply")
    expect(page.locator('[name="supply.ze_ohm"]')).to_have_value("0.24")
    expect(page.locator("#saved")).to_have_text("3 waiting to send")
    _type(page, "supply.ze_ohm", "0.25")
    expect(page.locator("#saved")).to_have_text(re.compile(r"\d waiting to send"))

    server.start()
    _comes(server, "supply.ze_ohm", 0.25)
    _saved(page)
    job = _job(server)["job"]
    assert job["supply"]["tails"]["length_m"] == 1.9
    assert job["earthing"]["bonds"][1]["verified"] == "yes"
    assert _job(server)["conflicts"] == []


def test_a_page_that_was_never_opened_says_so_without_signal(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/supply")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")

    server.kill()
    page.goto(f"{server.base}/jobs/cottage/survey/supply")

    expect(page.locator("h1")).to_have_text("This page is not on this device.")


def test_others_answers_meanwhile_are_merged_or_both_kept(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/supply")
    _kept(page)
    other = f"{server.base}/api/jobs/semi/changes"
    server.kill()
    _type(page, "supply.ze_ohm", "0.24")
    expect(page.locator("#saved")).to_have_text("1 waiting to send")

    # Another device was quicker: to one other field, and to the same one.
    page.context.set_offline(offline=True)
    server.start()
    for path, value in (("supply.tails.length_m", 1.8), ("supply.ze_ohm", 0.3)):
        edits = [{"path": path, "value": value}]
        sent = {"base": 1, "edits": edits}
        here = {"Sec-Fetch-Site": "same-origin"}
        httpx.post(other, json=sent, headers=here, timeout=LONG / 1000).raise_for_status()
    page.context.set_offline(offline=False)
    page.reload()

    expect(page.locator("#saved")).to_have_text("Two versions: choose", timeout=LONG)
    found = _job(server)
    assert found["job"]["supply"]["ze_ohm"] == 0.3
    assert found["job"]["supply"]["tails"]["length_m"] == 1.8
    clashes = found["conflicts"][0]["clashes"]
    assert [(c["path"], c["mine"], c["theirs"]) for c in clashes] == [("supply.ze_ohm", 0.24, 0.3)]


def test_the_same_entries_sent_twice_are_kept_once(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/supply")
    # The server gets it, and its answer is lost on the way back.
    page.evaluate(
        """() => { const real = fetch; let lost = 0; globalThis.fetch = async (...asked) => {
             const answer = await real(...asked);
             if (String(asked[0]).endsWith('/changes') && !lost++) throw new TypeError('lost');
             return answer; }; }"""
    )
    _type(page, "supply.ze_ohm", "0.24")
    expect(page.locator("#saved")).to_have_text("1 waiting to send")
    _type(page, "supply.ze_ohm", "0.26")
    _comes(server, "supply.ze_ohm", 0.26)
    _saved(page)

    found = _job(server)
    assert found["version"] == 3
    assert found["conflicts"] == []


def test_the_page_can_be_installed(server: Server) -> None:
    content = httpx.get(f"{server.base}/manifest.webmanifest").json()

    assert content["display"] == "standalone"
    for sign in content["icons"]:
        data = httpx.get(f"{server.base}{sign['src']}").content
        if sign["type"] == "image/png":
            # Width and height stand in the first chunk of a PNG (ISO/IEC 15948, 11.2.2).
            width, height = (int.from_bytes(data[at : at + 4], "big") for at in (16, 20))
            assert sign["sizes"] == f"{width}x{height}"


def test_an_address_without_https_says_what_is_not_covered(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/supply")
    assert page.locator("#offline-note").is_hidden()

    # No other address than the loopback is at hand here; a page without the worker acts the same.
    assert phone.context
    phone.context.add_init_script(
        "Object.defineProperty(navigator, 'serviceWorker', { value: undefined })"
    )
    page.goto(f"{server.base}/jobs/semi/survey/supply")

    expect(page.locator("#offline-note")).to_contain_text("This address is not HTTPS.")


def test_readings_are_judged_and_kept_without_the_server(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/test/kitchen-ring")
    _kept(page)

    server.kill()
    page.locator("#i-r1_ohm").fill("0.31")
    expect(page.locator("#v-r1_ohm")).to_contain_text("Within")
    page.keyboard.press("Enter")
    expect(page.locator("#i-rn_ohm")).to_be_focused()
    page.keyboard.type("0.4")
    expect(page.locator("#v-rn_ohm")).to_contain_text("Fail A loose joint")
    page.locator("#i-rn_ohm").fill("0.32")
    expect(page.locator("#v-rn_ohm")).to_contain_text("Within")
    page.get_by_role("button", name="Next: r2").click()
    expect(page.locator("#i-r2_ohm")).to_be_focused()
    expect(page.locator("#saved")).to_have_text("2 waiting to send")

    page = phone.open("/jobs/semi/test/kitchen-ring")
    expect(page.locator("#i-rn_ohm")).to_have_value("0.32")
    expect(page.locator("#r-r1_ohm summary")).to_contain_text("0.31")

    server.start()
    _saved(page)
    kept = httpx.get(f"{server.base}/api/jobs/semi/events").json()["events"]
    found = {e["subject"]: e["value"] for e in kept if e["kind"] == "reading"}
    assert found == {"circuits.kitchen-ring.r1_ohm": 0.31, "circuits.kitchen-ring.rn_ohm": 0.32}


def test_steps_are_ticked_without_the_server(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/on-site?step=1")
    _kept(page)

    server.kill()
    page.get_by_role("button", name="Done, next step").click()
    expect(page.locator("h1")).to_have_text("Photograph the board as found")
    _ready(page)
    page.get_by_text("Not right", exact=True).click()
    page.get_by_label("What is not right").fill("cover will not come off")
    page.get_by_role("button", name="Keep the note, stay here").click()
    expect(page.locator("#told")).to_contain_text("cover will not come off")
    page.locator(".shoot input").set_input_files(
        {"name": "board.png", "mimeType": "image/png", "buffer": _png()}
    )
    expect(page.locator("#saved")).to_have_text("3 waiting to send")

    page = phone.open("/jobs/semi/on-site?step=1")
    expect(page.locator("#told")).to_contain_text("Done")
    expect(page.locator("#done-count")).to_have_text("1")

    server.start()
    _saved(page)
    kept = httpx.get(f"{server.base}/api/jobs/semi/events").json()["events"]
    assert [e["value"]["state"] for e in kept if e["kind"] == "tick"] == ["done", "not right"]
    assert len([e for e in kept if e["kind"] == "photo"]) == 1
    # Asked without the browser, whose own copy may be the older one while the machine is busy.
    text = httpx.get(f"{server.base}/jobs/semi/on-site?step=2", timeout=60).text
    [picture] = set(re.findall(r'<img src="(/api/jobs/semi/photos/[0-9a-f]{64})"', text))
    assert httpx.get(f"{server.base}{picture}").headers["content-type"] == "image/png"


@pytest.mark.slow
def test_a_whole_job_with_the_power_cut_at_each_of_its_stages(phone: Phone, server: Server) -> None:
    page = phone.open("/jobs/semi/survey/supply")
    _kept(page)
    _cut(page, server, lambda: _type(page, "supply.ze_ohm", "0.19"))

    for task, heading in (("design", "board fits"), ("board", "board fits"), ("surge", "surge")):
        page.goto(f"{server.base}/jobs/semi/{task}", timeout=LONG)
        expect(page.locator("h1")).to_contain_text(heading)

    page.goto(f"{server.base}/jobs/semi/on-site?step=1", timeout=LONG)
    _ready(page)
    _cut(page, server, page.get_by_role("button", name="Done, next step").click)

    page.goto(f"{server.base}/jobs/semi/test/kitchen-ring", timeout=LONG)
    _ready(page)
    _cut(page, server, lambda: _read(page, "0.31"))

    page.goto(f"{server.base}/jobs/semi/handover", timeout=LONG)
    page.get_by_role("button", name=re.compile("^Issue the pack")).click(timeout=LONG)
    expect(page.locator("h1")).to_contain_text("Issued", timeout=LONG)

    assert _job(server)["job"]["supply"]["ze_ohm"] == 0.19
    kept = httpx.get(f"{server.base}/api/jobs/semi/events", timeout=LONG / 1000).json()["events"]
    assert {e["kind"] for e in kept} >= {"tick", "reading", "issued"}


def _read(page: Page, typed: str) -> None:
    page.locator("#i-r1_ohm").fill(typed)
    page.keyboard.press("Enter")


def _cut(page: Page, server: Server, enter: Callable[[], object]) -> None:
    """Enter something while nothing answers; it waits, and comes when the server is back."""
    server.kill()
    enter()
    expect(page.locator("#saved")).to_have_text("1 waiting to send")
    server.start()
    _saved(page)


def _png() -> bytes:
    """Return a picture of one dot (ISO/IEC 15948)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0))
    dots = chunk(b"IDAT", zlib.compress(b"\0\x80"))
    return b"\x89PNG\r\n\x1a\n" + head + dots + chunk(b"IEND", b"")
