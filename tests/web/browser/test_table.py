"""The circuits' table as a person fills it in: mouse, keyboard, paste, undo, two browsers."""

from __future__ import annotations

import re
import threading
import time

import pytest
from playwright.sync_api import Page, expect

from boardwright.design import Told
from boardwright.web.homes.jobs import Jobs
from tests.web.browser.conftest import Tab, until
from tests.web.browser.laptop import cell, note_outlines, paste

pytestmark = pytest.mark.browser

DESIGN = "/jobs/semi/design"
LONG = 90_000
"""A design takes seconds where several run at once. [ms]"""


@pytest.fixture
def desk(desk: Tab) -> Tab:
    """Return the opener of tabs; a refusal is an answer here, which the browser complains of."""
    desk.allows = "422"
    return desk


def saved(page: Page) -> None:
    expect(page.locator("#state")).to_have_text(re.compile(r"^Saved \d\d:\d\d$"), timeout=LONG)


def test_an_entry_is_saved_and_the_figures_follow_in_place(desk: Tab, own: Jobs) -> None:
    page = desk.open(DESIGN)
    page.evaluate("window.kept = 'the page was not loaded anew'")
    note_outlines(page)
    length = cell(page, "cooker.cable.length_m")
    was = length.locator(".out").inner_text()

    length.click()
    page.keyboard.type("19")
    page.keyboard.press("Enter")

    saved(page)
    assert own.load("semi").circuit("cooker").cable.length_m == 19
    until(lambda: "circuits.cooker.cable.length_m" in page.evaluate("window.outlined"))
    assert length.locator(".out").inner_text() != was
    assert page.evaluate("window.kept") == "the page was not loaded anew"
    # The next row is where one goes on.
    assert page.evaluate("document.activeElement.dataset.path").startswith("circuits.kitchen-ring")
    expect(length).not_to_have_class(re.compile("changed"))


def test_what_is_refused_stays_in_its_cell_until_it_is_mended(desk: Tab, own: Jobs) -> None:
    page = desk.open(DESIGN)
    line = cell(page, "shower.cable.line_mm2")

    line.click()
    page.keyboard.type("thick")
    page.keyboard.press("Tab")

    expect(line).to_have_attribute("aria-invalid", "true")
    expect(line.locator(".typed")).to_have_text("thick")
    said = page.locator(f"#{line.get_attribute('aria-describedby')}")
    expect(said).to_contain_text("Line: Found 'thick', expected a number over 0")
    assert own.version("semi").number == 1

    line.click()
    page.keyboard.type("16")
    page.keyboard.press("Enter")
    saved(page)
    expect(line).not_to_have_attribute("aria-invalid", "true")
    assert own.load("semi").circuit("shower").cable.line_mm2 == 16


def test_a_block_from_a_spreadsheet_is_one_version(desk: Tab, own: Jobs) -> None:
    page = desk.open(DESIGN)

    cell(page, "smoke-alarms.cable.line_mm2").click()
    paste(page, "2.5\t1.5\t22\tc\r\n4\t2.5\t1,0\t102\r\n")
    expect(page.locator(".refused")).to_contain_text("Length: Found '1,0'")
    saved(page)
    expect(cell(page, "boiler.cable.method").locator(".typed")).to_have_text("102")
    saved_line = own.load("semi").circuit("smoke-alarms").cable
    boiler = own.load("semi").circuit("boiler").cable

    assert (saved_line.line_mm2, saved_line.cpc_mm2, saved_line.length_m) == (2.5, 1.5, 22)
    # What could be kept was kept, and what was refused is what stood before.
    assert (boiler.line_mm2, boiler.method, boiler.length_m) == (4, "102", 8)
    assert own.version("semi").number == 2


def test_fill_down_and_one_step_back(desk: Tab, own: Jobs) -> None:
    page = desk.open(DESIGN)
    rows = ("down-ring", "up-ring", "immersion")

    def methods() -> list[str | None]:
        return [own.load("semi").circuit(row).cable.method for row in rows]

    cell(page, "down-ring.cable.method").click()
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("Control+d")
    expect(cell(page, "immersion.cable.method").locator(".typed")).to_have_text("102")
    saved(page)
    assert methods() == ["102", "102", "102"]

    page.keyboard.press("Control+z")
    expect(cell(page, "immersion.cable.method").locator(".typed")).to_have_text("101", timeout=LONG)
    assert methods() == ["102", "102", "101"]


def test_the_handle_fills_the_rows_it_is_drawn_over(desk: Tab, own: Jobs) -> None:
    page = desk.open(DESIGN)
    cell(page, "down-ring.cable.length_m").click()
    page.locator(".handle").hover()

    page.mouse.down()
    cell(page, "up-ring.cable.length_m").hover()
    page.mouse.up()

    saved(page)
    assert own.load("semi").circuit("up-ring").cable.length_m == 58


def test_delete_means_not_known_yet(desk: Tab, own: Jobs) -> None:
    page = desk.open(DESIGN)

    cell(page, "cooker.cable.method").click()
    page.keyboard.press("Delete")

    saved(page)
    assert own.load("semi").circuit("cooker").cable.method is None


def test_escape_puts_an_entry_back(desk: Tab, own: Jobs) -> None:
    page = desk.open(DESIGN)
    name = cell(page, "cooker.name")

    name.click()
    page.keyboard.press("Enter")
    page.keyboard.type("Oven")
    page.keyboard.press("Escape")

    expect(name.locator(".typed")).to_have_text("Cooker")
    assert own.version("semi").number == 1


def test_two_browsers_on_one_home_lose_nothing(desk: Tab, own: Jobs) -> None:
    first, second = desk.open(DESIGN), desk.open(DESIGN)

    cell(first, "cooker.cable.length_m").click()
    first.keyboard.type("11")
    first.keyboard.press("Enter")
    saved(first)
    cell(second, "boiler.cable.length_m").click()
    second.keyboard.type("13")
    second.keyboard.press("Enter")

    def lengths() -> tuple[float | None, ...]:
        job = own.load("semi")
        return tuple(job.circuit(each).cable.length_m for each in ("cooker", "boiler"))

    until(lambda: lengths() == (11, 13))
    # Each shows the other's without being loaded anew.
    expect(cell(first, "boiler.cable.length_m").locator(".typed")).to_have_text("13", timeout=LONG)
    expect(cell(second, "cooker.cable.length_m").locator(".typed")).to_have_text("11", timeout=LONG)


def test_entries_are_tried_weighed_and_one_variant_kept(desk: Tab, own: Jobs) -> None:
    page = desk.open(DESIGN)
    page.set_default_timeout(LONG)

    page.get_by_role("button", name="Try without saving").click()
    line = cell(page, "cooker.cable.line_mm2")
    line.click()
    page.keyboard.type("10")
    page.keyboard.press("Enter")
    expect(line).to_have_class(re.compile("tried"))
    assert own.version("semi").number == 1

    page.get_by_role("link", name="Weigh them").click()
    # The variant is worked out in the background; the page then shows it by itself.
    expect(page.locator(".differences")).to_contain_text("Cooker: Iz", timeout=3 * LONG)
    expect(page.locator(".side").nth(1)).to_contain_text("Cooker, Line: 6 → 10")
    page.get_by_role("button", name="Keep this one").click()

    expect(cell(page, "cooker.cable.line_mm2").locator(".typed")).to_have_text("10", timeout=LONG)
    assert own.load("semi").circuit("cooker").cable.line_mm2 == 10
    # What was kept is no longer only tried.
    expect(page.locator(".trial")).to_be_hidden()


def test_long_work_is_shown_and_can_be_stopped(
    desk: Tab, own: Jobs, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = desk.open(DESIGN)
    begun = threading.Event()

    def slowly(told: Told) -> None:
        """Work in a hundred steps until it is stopped."""
        for step in range(100):
            begun.set()
            told("a new board: order and wiring", step / 100)
            time.sleep(0.3)

    instead = lambda _id, _edits=(): own.works.begin("slow", slowly)  # noqa: E731 - one line
    monkeypatch.setattr(own, "begin_design", instead)
    cell(page, "cooker.cable.length_m").click()
    page.keyboard.type("12")
    page.keyboard.press("Enter")

    work = page.locator("#work")
    expect(work).to_be_visible(timeout=LONG)
    expect(work).to_contain_text("order and wiring")
    assert begun.is_set()
    work.get_by_role("button", name="Cancel").click()

    expect(page.locator("#state")).to_contain_text("Stopped", timeout=LONG)
    expect(work).to_be_hidden()
    # The entry itself was saved before anything was worked out.
    assert own.load("semi").circuit("cooker").cable.length_m == 12
