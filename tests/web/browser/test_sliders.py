"""The sliders of the surge page: the bands move with a length, and come back as designed."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.web.browser.conftest import Tab

pytestmark = pytest.mark.browser

SURGE = "/jobs/semi/surge"
LONG = 90_000


def reach(page: Page) -> float:
    """Return where the board's bar ends, in per cent of the axis."""
    bar = page.locator('figure[data-place="board"] rect.fitted')
    return sum(float((bar.get_attribute(name) or "0").rstrip("%")) for name in ("x", "width"))


def test_longer_leads_move_the_bands_up_and_back(tab: Tab) -> None:
    page = tab.open(SURGE)
    designed = page.locator('figure[data-place="board"] dl .fitted dd')
    words, was = designed.inner_text(), reach(page)

    page.get_by_label("SPD leads, together").fill("2")
    expect(designed).not_to_have_text(words, timeout=LONG)
    assert reach(page) > was
    expect(page.locator('output[for="lead-length"]')).to_have_text(
        re.compile(r"^2\.00 m, designed 0\.\d\d m$")
    )
    # What was designed stays to be seen behind it.
    expect(page.locator('figure[data-place="board"] rect.was')).to_be_visible()

    page.get_by_role("button", name="Put back").click()
    expect(designed).to_have_text(words, timeout=LONG)
    assert reach(page) == pytest.approx(was, abs=0.01)


def test_a_slider_goes_by_keys_and_is_as_high_as_a_thumb(tab: Tab) -> None:
    page = tab.open(SURGE, 390)
    slider = page.get_by_label("Cable to Television")
    was = slider.input_value()

    slider.focus()
    page.keyboard.press("ArrowRight")

    assert float(slider.input_value()) == float(was) + 1
    expect(page.locator("#outcome")).not_to_have_text("As designed.", timeout=LONG)
    box = slider.bounding_box()
    assert box is not None
    assert box["height"] == 64


def test_without_script_no_slider_promises_anything(tab: Tab) -> None:
    page = tab.open(SURGE, script=False)

    expect(page.locator("#sliders")).to_be_hidden()
    expect(page.get_by_role("link", name="What would change it")).to_be_visible()
