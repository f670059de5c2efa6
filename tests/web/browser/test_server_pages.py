"""Beginning, list, history, two versions and devices in a browser; two browsers on one home."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, expect

from boardwright.job.edit import Edit
from boardwright.store.records import Stamp
from boardwright.store.store import open_store
from boardwright.web.app import create_app
from boardwright.web.devices.access import Access, Network
from boardwright.web.homes.examples import example
from boardwright.web.homes.jobs import Jobs
from tests.web.browser.conftest import SIZES, Tab, watched
from tests.web.browser.conftest import served as serving

pytestmark = pytest.mark.browser

PAGES = (
    "/",
    "/start",
    "/away",
    "/pair",
    "/devices",
    "/jobs/flat/history",
    "/jobs/flat/changed?one=1&other=2",
    "/jobs/flat/versions",
)


@pytest.fixture(scope="module")
def homes(tmp_path_factory: pytest.TempPathFactory) -> Jobs:
    """Return one home that two people changed at once, and one that was put away."""
    jobs = Jobs(open_store(tmp_path_factory.mktemp("pages") / "jobs.db"))
    stamp = Stamp("Ann, laptop", "begun", jobs.now())
    jobs.create(example("flat"), stamp)
    for who, ze in (("Ann, phone", 0.31), ("Bob, tablet", 0.27)):
        edits = [Edit("supply.ze_ohm", ze), Edit("title", f"61 Quayside, {who}")]
        jobs.change("flat", edits, base=1, stamp=Stamp(who, "read again", jobs.now()))
    return jobs


@pytest.fixture(scope="module")
def served(homes: Jobs, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    access = Access(Network(frozenset({"192.168.1.20"}), "", tls=True, fingerprint="AB:" * 31))
    access.pairing.new_code()
    access.devices.admit("Ann, phone")
    cache: Path = tmp_path_factory.mktemp("cache")
    app = create_app(homes, access, cache)
    with serving(app) as address:
        yield address


@pytest.fixture
def here(browser: Browser, served: str) -> Iterator[Tab]:
    with watched(browser, served) as tabs:
        yield tabs


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("width", SIZES)
def test_no_page_offends_the_accessibility_rules_or_scrolls_sideways(
    width: int, look: str, here: Tab
) -> None:
    found = []
    for path in PAGES:
        page = here.open(path, width, look)
        for violation in Axe().run(page).response["violations"]:
            places = [node["target"] for node in violation["nodes"][:4]]
            found.append(f"{path}: {violation['id']}: {places}")
        if page.evaluate("document.documentElement.scrollWidth") > width:
            found.append(f"{path}: scrolls sideways")
        page.context.close()
    here.opened.clear()

    assert found == []


def test_every_control_can_be_hit_with_a_thumb(here: Tab) -> None:
    for path in PAGES:
        page = here.open(path, 390)
        small = page.evaluate(
            """() => [...document.querySelectorAll('button, .button, .option, .tools a')]
              .filter(e => e.checkVisibility())
              .map(e => [e.textContent.trim().slice(0, 30), e.getBoundingClientRect()])
              .filter(([, box]) => box.height < 47.5)
              .map(([text, box]) => `${text}: ${box.width} × ${box.height}`)"""
        )
        assert small == [], path


def test_a_home_is_begun_by_keyboard_alone_without_script(here: Tab, homes: Jobs) -> None:
    page = here.open("/start", 390, script=False)

    page.get_by_role("radio", name="Flat").focus()
    page.keyboard.press("Space")
    page.get_by_role("radio", name=re.compile("^TT")).focus()
    page.keyboard.press("Space")
    page.get_by_label("What people call the home").fill("12 Ferry Road")
    page.keyboard.press("Enter")

    expect(page).to_have_url(re.compile("/jobs/12-ferry-road/survey"))
    job = homes.load("12-ferry-road")
    assert (job.premises.kind, job.supply.system) == ("flat", "TT")


def test_two_browsers_see_each_others_changes(here: Tab, homes: Jobs) -> None:
    page = here.open("/jobs/flat/history", 820)
    version = homes.version("flat").number
    stamp = Stamp("Cleo, tablet", "a length read", homes.now())

    homes.change("flat", [Edit("supply.ipf_a", 2900)], base=version, stamp=stamp)

    news = page.locator(".news")
    expect(news).to_contain_text("Changed by Cleo, tablet at")
    news.get_by_role("link", name="show").click()
    expect(page.locator("h1")).to_have_text(
        f"One thing differs between version {version} and version {version + 1}."
    )
    expect(page.locator("tbody")).to_contain_text("2,900\u00a0A")


def test_undo_stands_on_the_page_and_goes_back(here: Tab, homes: Jobs) -> None:
    version = homes.version("flat").number
    stamp = Stamp("Ann", "a new name", homes.now())
    homes.change("flat", [Edit("title", "Before undo")], base=version, stamp=stamp)
    page = here.open("/jobs/flat/history", 390, script=False)

    page.get_by_role("button", name="Undo").click()

    expect(page).to_have_url(re.compile("/jobs/flat/history"))
    assert homes.load("flat").title != "Before undo"


def test_one_of_two_versions_is_chosen(here: Tab, homes: Jobs) -> None:
    page = here.open("/jobs/flat/versions", 390)

    page.get_by_text("0.27\u00a0Ω").click()
    page.get_by_text("61 Quayside, Bob, tablet").first.click()
    page.get_by_role("button", name="Keep what is chosen").click()

    expect(page).to_have_url(re.compile("/history"))
    assert homes.load("flat").supply.ze_ohm == 0.27
    assert homes.store.conflicts("flat") == ()
