"""The page as a person uses it: by mouse, by keyboard, without script, at arm's length."""

from __future__ import annotations

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Locator, Page, expect

from boardwright.web.homes.jobs import Jobs
from tests.web.browser.conftest import SIZES, Tab

pytestmark = pytest.mark.browser

PAGES = (
    "survey",
    "design",
    "design/circuits/cooker",
    "weigh",
    "board",
    "board?move=way-boiler:4",
    "board?view=on",
    "board?view=line&zoom=150",
    "surge",
    "on-site?step={step}",
    "test",
    "handover",
    "handover/householder",
    "aftercare",
)
SPD_EARTH = "spd-pe"


@pytest.fixture(scope="session")
def step(jobs: Jobs) -> int:
    """Return the step that joins the SPD to the earth bar."""
    steps = jobs.design("semi").chosen.wiring.steps
    return next(s.number for s in steps if SPD_EARTH in s.conductors)


@pytest.mark.parametrize(
    ("width", "look"),
    [
        *((width, look) for width in SIZES for look in ("light", "dark")),
        (390, "high-light"),
        (390, "high-dark"),
    ],
)
def test_no_page_offends_the_accessibility_rules(
    width: int, look: str, tab: Tab, step: int
) -> None:
    found = []
    for path in ("/", *(f"/jobs/semi/{page.format(step=step)}" for page in PAGES)):
        page = tab.open(path, width, look)
        # What is folded must be as good as what is seen.
        page.evaluate("document.querySelectorAll('.working').forEach(each => each.open = true)")
        for violation in Axe().run(page).response["violations"]:
            places = [node["target"] for node in violation["nodes"][:4]]
            found.append(f"{path}: {violation['id']}: {places}")
        page.context.close()
    tab.opened.clear()

    assert found == []


@pytest.mark.parametrize("width", SIZES)
@pytest.mark.parametrize("name", ["semi", pytest.param("three-phase", marks=pytest.mark.slow)])
def test_no_page_scrolls_sideways(width: int, name: str, tab: Tab) -> None:
    own = [each for each in PAGES if name == "semi" or not re.search("cooker|boiler", each)]
    for each in own:
        page = tab.open(f"/jobs/{name}/{each.format(step=25)}", width)
        page.evaluate(
            "document.querySelectorAll('details:not(.looks)').forEach(d => d.open = true)"
        )

        wide = page.evaluate("document.documentElement.scrollWidth")

        assert wide <= width, each


@pytest.mark.parametrize("width", [820, 1024, 1200, 1280, 1366, 1440])
def test_the_table_of_circuits_stays_in_its_column(width: int, tab: Tab) -> None:
    page = tab.open("/jobs/semi/design")
    page.set_viewport_size({"width": width, "height": 900})

    over = page.evaluate(
        """() => { const table = document.querySelector('.circuits').getBoundingClientRect();
           return table.right - document.querySelector('.beside > .work')
             .getBoundingClientRect().right; }"""
    )

    assert over <= 1


def test_every_control_can_be_hit_with_a_thumb(tab: Tab, step: int) -> None:
    for each in PAGES:
        page = tab.open(f"/jobs/semi/{each.format(step=step)}", 390)
        small = page.evaluate(
            """() => [...document.querySelectorAll('main a, main summary, nav a, summary, .button')]
              .filter(e => !e.closest('svg') && e.checkVisibility() && !e.closest('p'))
              .map(e => [e.closest('tr') ?? e])
              .map(([e]) => [e.textContent.trim().slice(0, 30), e.getBoundingClientRect()])
              .filter(([, box]) => box.height < 47.5 || box.width < 47.5)
              .map(([text, box]) => `${text}: ${box.width} × ${box.height}`)"""
        )
        assert small == [], each


def test_a_row_shows_its_wire_and_a_wire_its_row(tab: Tab) -> None:
    page = tab.open("/jobs/semi/board")
    row, wire = _row(page), _wire(page)

    row.hover()
    expect(wire).to_have_class(re.compile(r"\bnow\b"))
    expect(wire.locator(".sleeve")).to_have_css("opacity", "1")
    expect(page.locator(f'circle[data-wire="{SPD_EARTH}"]').first).to_have_css("opacity", "1")
    expect(page.locator(".pick:not(.now)").first).not_to_have_css("opacity", "1")

    page.locator("h1").hover()
    expect(wire).not_to_have_class(re.compile(r"\bnow\b"))

    # The box of an S-shaped lead has no lead in its middle: the mouse goes to a point on it.
    x, y = wire.locator(".halo").evaluate(
        """path => { const at = path.getPointAtLength(path.getTotalLength() * 0.9);
             const seen = at.matrixTransform(path.getScreenCTM()); return [seen.x, seen.y]; }"""
    )
    page.mouse.move(x, y)
    expect(row).to_have_class(re.compile(r"\bnow\b"))


def test_a_picked_conductor_stays_until_put_back(tab: Tab) -> None:
    page = tab.open("/jobs/semi/board")
    row = _row(page)

    row.click()
    page.locator("h1").hover()
    expect(_wire(page)).to_have_class(re.compile(r"\bnow\b"))
    expect(_wire(page)).to_be_in_viewport()

    page.keyboard.press("Escape")
    expect(_wire(page)).not_to_have_class(re.compile(r"\bnow\b"))


def test_the_keyboard_alone_goes_from_row_to_wire_and_back(tab: Tab) -> None:
    page = tab.open("/jobs/semi/board")

    _row(page).locator("a").focus()
    expect(_wire(page)).to_have_class(re.compile(r"\bnow\b"))
    _wire(page).focus()
    expect(_row(page)).to_have_class(re.compile(r"\bnow\b"))
    page.keyboard.press("Enter")
    expect(_row(page)).to_be_in_viewport()


def test_without_script_a_row_still_leads_to_its_wire(tab: Tab) -> None:
    page = tab.open("/jobs/semi/board", script=False)

    page.goto(f"{page.url}#wire-{SPD_EARTH}")

    expect(_wire(page).locator(".sleeve")).to_have_css("opacity", "1")
    page.goto(f"{page.url.partition('#')[0]}#row-{SPD_EARTH}")
    plain = page.locator(".conductors tbody tr").first
    accented = _row(page).evaluate("row => getComputedStyle(row).backgroundColor")
    assert accented != plain.evaluate("row => getComputedStyle(row).backgroundColor")


def test_plus_draws_it_larger_and_keeps_the_middle(tab: Tab) -> None:
    page = tab.open("/jobs/semi/board", 390)
    middle = """pane => (pane.scrollLeft + pane.clientWidth / 2) / pane.scrollWidth"""
    drawing = page.locator(".drawing")
    drawing.evaluate("pane => { pane.scrollLeft = pane.scrollWidth / 3; }")
    before = (drawing.evaluate(middle), drawing.evaluate("pane => pane.scrollWidth"))

    with page.expect_navigation(url=re.compile("zoom=150"), wait_until="load"):
        page.get_by_role("link", name="Larger").click()

    assert drawing.evaluate("pane => pane.scrollWidth") == pytest.approx(before[1] * 1.5, rel=0.02)
    assert drawing.evaluate(middle) == pytest.approx(before[0], abs=0.02)


@pytest.mark.parametrize("width", SIZES)
def test_minus_shows_the_whole_in_one_look(width: int, tab: Tab) -> None:
    page = tab.open("/jobs/semi/board", width, script=False)

    page.get_by_role("link", name="Smaller").click()

    expect(page.locator("#board")).to_be_in_viewport(ratio=1)
    box = page.locator("#board").bounding_box()
    assert box is not None
    assert box["width"] <= width
    assert page.get_by_role("link", name="Smaller").count() == 0


@pytest.mark.parametrize("view", ["off", "on", "line", "off&zoom=0", "on&zoom=0"])
@pytest.mark.parametrize("width", SIZES)
@pytest.mark.parametrize("name", ["semi", pytest.param("three-phase", marks=pytest.mark.slow)])
def test_no_letter_of_a_picture_is_too_small_to_read(
    name: str, width: int, view: str, tab: Tab
) -> None:
    # Floor of the look (a rule of the house, no outside source): 9 px for every letter.
    page = tab.open(f"/jobs/{name}/board?view={view}", width)
    small = page.evaluate(
        """() => [...document.querySelectorAll('.pan svg text')]
          .filter(t => t.getClientRects().length)
          .map(t => [t.textContent, parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a])
          .filter(([, px]) => px < 8.95).map(([text, px]) => `${text}: ${px.toFixed(1)}`)"""
    )

    assert small == []
    assert page.locator(".pan svg text").count() > 20


def test_a_working_opens_without_script(tab: Tab) -> None:
    page = tab.open("/jobs/semi/design", 390, script=False)
    working = page.locator(".working").first

    expect(working.locator(".sum").first).to_be_hidden()
    working.locator("summary").click()

    expect(working.locator(".sum").first).to_be_visible()
    expect(working).to_contain_text("Design current")


def test_the_arrows_play_the_steps(tab: Tab) -> None:
    page = tab.open("/jobs/semi/on-site")

    for key, step in (("ArrowRight", 2), ("ArrowRight", 3), ("ArrowLeft", 2)):
        expect(page.locator("body")).to_have_attribute("data-ready", "yes")
        page.keyboard.press(key)
        expect(page).to_have_url(re.compile(rf"step={step}$"))


def test_steps_play_without_script(tab: Tab) -> None:
    page = tab.open("/jobs/semi/on-site", script=False)

    page.locator('a[rel="next"]').click()

    expect(page).to_have_url(re.compile(r"step=2$"))
    expect(page.locator("h1")).to_have_count(1)


def test_a_step_is_seen_at_once_on_a_phone(tab: Tab, step: int) -> None:
    page = tab.open(f"/jobs/semi/on-site?step={step}", 390)

    for part in (".caution", ".picture", "h1", ".figures", ".thumb"):
        expect(page.locator(part)).to_be_in_viewport(ratio=1)
    figures = page.locator(".figures").bounding_box()
    thumb = page.locator(".thumb").bounding_box()
    assert figures is not None
    assert thumb is not None
    assert figures["y"] + figures["height"] <= thumb["y"] + 1


def test_a_chosen_look_is_remembered(tab: Tab) -> None:
    page = tab.open("/jobs/semi/board", look="system")

    page.get_by_text("Light and contrast").click()
    page.get_by_role("button", name="Dark", exact=True).click()

    expect(page.locator("html")).to_have_attribute("data-theme", "dark")
    page.goto(page.url.replace("board", "survey"))
    expect(page.locator("html")).to_have_attribute("data-theme", "dark")


def test_the_typeface_is_the_pages_own(tab: Tab) -> None:
    page = tab.open("/jobs/semi/board")

    loaded = page.evaluate(
        "document.fonts.ready.then(() => [...document.fonts].map(f => `${f.family} ${f.status}`))"
    )

    assert loaded == ["IBM Plex Sans loaded"]


def _row(page: Page) -> Locator:
    return page.locator(f"#row-{SPD_EARTH}")


def _wire(page: Page) -> Locator:
    return page.locator(f"#wire-{SPD_EARTH}")
