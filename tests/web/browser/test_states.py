"""A page in the middle of things: refused, moved, opened, told; it offends no rule even then."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.web.browser.conftest import Tab, ready

pytestmark = pytest.mark.browser


def a_wrong_answer(page: Page) -> None:
    page.locator('[name="supply.ze_ohm"]').fill("0,31")
    expect(page.locator('[data-path="supply.ze_ohm"] .is-wrong')).to_be_visible()


def the_looks(page: Page) -> None:
    page.locator(".looks summary").click()


def about_to_remove(page: Page) -> None:
    page.locator(".sure summary").first.click()


def a_device_tried_elsewhere(page: Page) -> None:
    page.locator('#board .device[data-item="way-boiler"]').focus()
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#tried h2")).to_be_visible()


def a_reading_that_is_none(page: Page) -> None:
    page.locator("#i-r1_ohm").fill("0,9")
    expect(page.locator("#v-r1_ohm")).to_contain_text("is no reading")


def a_reading_that_fails(page: Page) -> None:
    page.locator("#i-r1_ohm").fill("99")
    expect(page.locator("#v-r1_ohm")).to_contain_text("Fail")


def a_step_not_right(page: Page) -> None:
    page.locator("#wrong-step summary").click()
    page.locator("#note").fill("cover will not come off")
    page.get_by_role("button", name="Keep the note").click()
    expect(page.locator("#told")).to_contain_text("cover will not come off")


def a_circuit_not_added(page: Page) -> None:
    page.locator("#add summary").click()
    for name, value in (("name", "Shed"), ("line", "2.5"), ("cpc", "1.5"), ("length", "1,8")):
        page.locator(f"#add [name={name}]").fill(value)
    page.get_by_role("button", name="Add it").click()
    expect(page.locator("#add .refused")).to_contain_text("Write 1.8 with a point.")


def a_form_not_saved(page: Page) -> None:
    page.locator("#f-length").fill("1,8")
    page.get_by_role("button", name="Save, back to the circuits").click()
    expect(page.locator("main > .refused")).to_contain_text("Length")


STATES: tuple[tuple[str, Callable[[Page], None]], ...] = (
    ("survey/supply", a_wrong_answer),
    ("survey/supply", the_looks),
    ("survey/earthing", about_to_remove),
    ("board", a_device_tried_elsewhere),
    ("test/kitchen-ring", a_reading_that_is_none),
    ("test/kitchen-ring", a_reading_that_fails),
    ("on-site?step=2", a_step_not_right),
    ("design", a_circuit_not_added),
    ("design/circuits/cooker", a_form_not_saved),
)


@pytest.mark.parametrize(("width", "look"), [(390, "light"), (1440, "dark")])
def test_no_state_of_a_page_offends_or_scrolls_sideways(width: int, look: str, desk: Tab) -> None:
    desk.allows = "422"  # a refusal is an answer here, which the browser complains of
    found = []
    page = desk.open("/jobs/semi/survey/supply", width, look)
    for path, brought in STATES:
        page.goto(f"{desk.base}/jobs/semi/{path}")
        ready(page)
        brought(page)
        for violation in Axe().run(page).response["violations"]:
            places = [node["target"] for node in violation["nodes"][:4]]
            found.append(f"{brought.__name__}: {violation['id']}: {places}")
        if page.evaluate("document.documentElement.scrollWidth") > width:
            found.append(f"{brought.__name__}: scrolls sideways")

    assert found == []


def test_what_opens_over_a_page_closes_by_escape_and_elsewhere(tab: Tab) -> None:
    page = tab.open("/jobs/semi/design")
    looks, keys = page.locator(".looks"), page.locator(".key-help")

    looks.locator("summary").click()
    page.keyboard.press("Escape")
    expect(looks).not_to_have_attribute("open", "")
    expect(looks.locator("summary")).to_be_focused()

    keys.locator("summary").click()
    page.locator("h1").click()
    expect(keys).not_to_have_attribute("open", "")


def test_much_that_is_not_known_of_a_circuit_is_a_count_until_asked_for(desk: Tab) -> None:
    page = desk.open("/start", 390)
    page.get_by_label("What people call the home").fill("9 Walk Lane")
    page.get_by_role("button", name="Begin with the survey").click()
    page.get_by_role("link", name="The design so far").click()
    many = page.locator(".many").first

    expect(many.locator(".line").first).to_be_hidden()
    summary = many.locator("> summary")
    expect(summary).to_contain_text("not known")
    count = int((summary.locator("b").text_content() or "0").split()[0])
    summary.click()

    expect(many.locator(".line").first).to_be_visible()
    expect(many.locator(".line")).to_have_count(count)
