"""Devices moved by mouse and by keys: what it does is seen at once, and kept or put back."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from boardwright.web.homes.jobs import Jobs
from tests.web.browser.conftest import Tab

pytestmark = pytest.mark.browser

BOARD = "/jobs/semi/board"
LONG = 90_000


def device(page: Page, item: str) -> Locator:
    return page.locator(f'#board .device[data-item="{item}"]')


def test_a_device_is_dragged_seen_and_kept(desk: Tab, own: Jobs) -> None:
    page = desk.open(BOARD)
    page.evaluate("window.kept = 'the page was not loaded anew'")
    target = device(page, "way-cooker").bounding_box()
    assert target is not None

    device(page, "way-boiler").hover(position={"x": 10, "y": 60})
    page.mouse.down()
    page.mouse.move(target["x"] + 10, target["y"] + 60, steps=8)
    # Before it is let go the page says what it would do.
    expect(page.locator("#tried")).to_contain_text("tried and not saved")
    page.mouse.up()

    expect(page.locator("#tried h2")).to_have_text("Boiler on way 5, tried and not saved.")
    expect(page.locator("#tried-band")).to_contain_text("kV", timeout=LONG)
    assert own.version("semi").number == 1

    page.get_by_role("button", name="Keep it there").click()
    expect(page.locator("#tried h2")).to_have_count(0, timeout=LONG)
    assert own.load("semi").wishes.ways == {"boiler": 5}
    assert page.evaluate("window.kept") == "the page was not loaded anew"


def test_keys_take_a_device_up_move_it_and_put_it_back(desk: Tab, own: Jobs) -> None:
    page = desk.open(BOARD)

    device(page, "way-boiler").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#tried h2")).to_have_text("Boiler on way 10, tried and not saved.")
    expect(device(page, "way-boiler")).to_be_focused()
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#tried h2")).to_have_text("Boiler on way 9, tried and not saved.")
    expect(device(page, "way-boiler")).to_have_attribute("aria-label", re.compile("way 9"))

    page.keyboard.press("Escape")
    expect(page.locator("#tried h2")).to_have_count(0)
    expect(device(page, "way-boiler")).to_have_attribute("aria-label", re.compile("way 11"))
    assert own.version("semi").number == 1


def test_the_keyboard_alone_keeps_a_move(desk: Tab, own: Jobs) -> None:
    page = desk.open(BOARD)

    device(page, "way-boiler").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#tried h2")).to_contain_text("way 10")
    page.keyboard.press("Enter")
    expect(page.locator("#tried-said")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")

    expect(page.locator("#tried h2")).to_have_count(0, timeout=LONG)
    assert own.load("semi").wishes.ways == {"boiler": 10}


def test_where_no_rule_allows_it_the_page_says_why(desk: Tab) -> None:
    page = desk.open(BOARD)

    device(page, "way-shower").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")

    expect(page.locator("#tried")).to_contain_text("cannot stand on way 2")
    expect(page.get_by_role("button", name="Keep it there")).to_have_count(0)
