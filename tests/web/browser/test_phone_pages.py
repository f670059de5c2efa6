"""Survey, tests and steps as they are seen and reached: three sizes, four looks, keys, thumbs."""

from __future__ import annotations

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.web.browser.conftest import SIZES, Tab

pytestmark = pytest.mark.browser

SCREENS = (
    "survey/supply",
    "survey/earthing",
    "survey/premises",
    "survey/board",
    "survey/existing_board.devices.3",
    "survey/circuits",
    "survey/circuits.cooker",
    "survey/circuits.cooker.load",
    "survey/circuits.cooker.readings",
    "survey/wishes",
    "test/origin",
    "test/kitchen-ring",
    "test/kitchen-ring.live",
    "on-site?step=2",
    "on-site?step=14",
)
UNFOLD = """document.querySelectorAll('main details:not(.reading), #wrong-step')
  .forEach(d => d.open = true)"""
TOO_SMALL = """() => {
  const controls = 'main :is(a, button, summary, label, textarea), .thumb :is(button, summary)';
  const entries = '.entry, .joined, .chosen, .blank';
  const sizes = (names, least) => [...document.querySelectorAll(names)]
    .filter(e => !e.closest('svg, p') && e.checkVisibility())
    .filter(e => !e.matches('.unseen, .label, .panel label'))
    .map(e => [e, e.getBoundingClientRect(), least]);
  return [...sizes(controls, 47.5), ...sizes(entries, 55.5)]
    .filter(([, box, least]) => box.height < least || box.width < 47.5)
    .map(([e, box]) => `${e.textContent.trim().slice(0, 30)}: ${box.width} × ${box.height}`); }"""


@pytest.mark.parametrize(
    ("width", "look"),
    [(390, "light"), (390, "high-dark"), (820, "dark"), (1440, "light"), (1440, "high-light")],
)
def test_no_screen_offends_the_accessibility_rules(width: int, look: str, tab: Tab) -> None:
    found = []
    page = tab.open("/jobs/semi/survey/supply", width, look)
    for path in SCREENS:
        page.goto(f"{tab.base}/jobs/semi/{path}")
        page.evaluate(UNFOLD)
        for violation in Axe().run(page).response["violations"]:
            places = [node["target"] for node in violation["nodes"][:4]]
            found.append(f"{path}: {violation['id']}: {places}")

    assert found == []


@pytest.mark.parametrize("width", SIZES)
def test_no_screen_scrolls_sideways(width: int, tab: Tab) -> None:
    page = tab.open("/jobs/semi/survey/supply", width)
    for path in SCREENS:
        page.goto(f"{tab.base}/jobs/semi/{path}")
        page.evaluate(UNFOLD)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path


def test_every_control_of_the_phone_can_be_hit_in_gloves(tab: Tab) -> None:
    # 48 px and fields of 56: the look, a rule of the house.
    page = tab.open("/jobs/semi/survey/supply", 390)
    for path in SCREENS:
        page.goto(f"{tab.base}/jobs/semi/{path}")
        page.evaluate(UNFOLD)
        small = page.evaluate(TOO_SMALL)
        assert small == [], path


def test_number_fields_call_for_the_number_pad(tab: Tab) -> None:
    page = tab.open("/jobs/semi/survey/supply", 390)

    expect(page.locator('[name="supply.ze_ohm"]')).to_have_attribute("inputmode", "decimal")
    page.goto(f"{tab.base}/jobs/semi/survey/board")
    expect(page.locator('[name="existing_board.ways"]')).to_have_attribute("inputmode", "numeric")
    page.goto(f"{tab.base}/jobs/semi/test/shower")
    expect(page.locator("#i-r1r2_ohm")).to_have_attribute("inputmode", "decimal")


def test_next_is_always_under_the_thumb(tab: Tab) -> None:
    page = tab.open("/jobs/semi/survey/supply", 390)
    for path in SCREENS:
        page.goto(f"{tab.base}/jobs/semi/{path}")
        button = page.locator(".thumb .button.main").last
        expect(button).to_be_in_viewport(ratio=1)
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 56, path
        assert box["x"] + box["width"] >= 390 - 17, path


def test_the_survey_goes_by_the_keyboard_alone(tab: Tab) -> None:
    page = tab.open("/jobs/cottage/survey/earthing")

    _reach(page, "earthing.means_present")
    page.keyboard.press("ArrowRight")
    assert page.evaluate("document.activeElement.value") == "no"
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.name") == "unknown"
    page.keyboard.press("Space")
    expect(page.locator('[data-path="earthing.means_present"] [name=unknown]')).to_be_checked()
    page.keyboard.press("Space")
    _reach(page, "earthing.conductor_mm2")
    page.keyboard.press("Enter")

    expect(page).to_have_url(re.compile("survey/environment$"))


def test_a_list_is_chosen_from_by_keys(tab: Tab) -> None:
    page = tab.open("/jobs/cottage/survey/supply")
    field = page.locator('[data-path="supply.cutout_condition"]')

    field.locator("summary").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowDown")
    chosen = field.locator("input:checked").get_attribute("value")
    page.keyboard.press("Enter")

    expect(field.locator(".chosen")).to_have_text(chosen or "none")
    expect(field.locator("summary")).to_be_focused()


def test_the_survey_is_a_form_without_script(tab: Tab) -> None:
    page = tab.open("/jobs/flat/survey/supply", 390, script=False)

    page.locator('[name="supply.ze_ohm"]').fill("0,31")
    page.locator(".thumb button").click()
    expect(page.locator('[data-path="supply.ze_ohm"] .is-wrong')).to_contain_text("with a point")
    expect(page.locator('[name="supply.ze_ohm"]')).to_have_value("0,31")
    page.locator('[name="supply.ze_ohm"]').fill("0.31")
    page.locator(".thumb button").click()

    expect(page.locator("h1")).to_have_text("Earthing and bonding")
    tab.complaints.clear()  # The browser notes the answer 422 as an error of its own.


def test_laptop_shows_sections_form_and_what_it_decides(tab: Tab) -> None:
    page = tab.open("/jobs/semi/survey/circuits.shower.cable", 1440)

    places = [page.locator(name).bounding_box() for name in (".contents", ".ask", ".decides")]
    starts = [box["x"] for box in places if box]
    assert starts == sorted(starts)
    assert len({round(x) for x in starts}) == 3
    expect(page.locator(".decided")).to_contain_text("Volt drop")


def _reach(page: Page, name: str) -> None:
    """Go on by Tab until a field is reached."""
    for _ in range(60):
        if page.evaluate("document.activeElement.name") == name:
            return
        page.keyboard.press("Tab")
    raise AssertionError(name)
