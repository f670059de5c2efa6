"""The verdict marks and the gauge: told apart without colour, and never without words."""

import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from boardwright.core.findings import Finding, Known, Rule, Sense, Verdict
from boardwright.documents.look.marks import ON_PAGE, caution_svg, gauge, mark, mark_svg, on_paper
from boardwright.documents.words.figures import verdict_word

RULE = Rule("1", "e", Known.FOUND)
FINDING = Finding("a", Verdict.FAIL, "b", "c", RULE, value=32, limit=25, unit="A")


def test_the_marks_differ_without_colour() -> None:
    grey = dict.fromkeys(on_paper(), "#000000")

    assert len({mark(verdict, grey) for verdict in Verdict}) == len(Verdict)


@pytest.mark.parametrize("verdict", list(Verdict))
def test_a_mark_says_its_word(verdict: Verdict) -> None:
    root = ET.fromstring(mark_svg(verdict, on_paper()))  # noqa: S314 (our own file)

    assert root.attrib["aria-label"] == verdict_word(verdict)
    assert root.attrib["role"] == "img"


def test_the_garnet_is_kept_for_fail_and_stop() -> None:
    adverse = on_paper()["adverse"]

    assert {v for v in Verdict if adverse in mark(v, on_paper())} == {Verdict.FAIL, Verdict.STOP}


def test_on_the_page_the_theme_decides() -> None:
    for text in (
        *(mark(v, ON_PAGE) for v in Verdict),
        caution_svg(ON_PAGE),
        gauge(FINDING, ON_PAGE),
    ):
        assert "var(--" in text
        assert "#" not in text


def test_the_dot_stands_outside_the_bracket_as_the_value_does() -> None:
    for value, limit in ((32.0, 25.0), (20.0, 25.0)):
        text = gauge(replace(FINDING, value=value, limit=limit), on_paper())
        dot, bracket = _dot_and_bracket(text)

        assert (dot > bracket) is (value > limit)
        # On a line from 0 the two stand as their figures do.
        assert (dot - 8) / (bracket - 8) == pytest.approx(value / limit, rel=0.005)


def test_the_bracket_opens_to_the_permitted_side() -> None:
    most = gauge(FINDING, on_paper())
    least = gauge(replace(FINDING, sense=Sense.AT_LEAST), on_paper())
    arm, at = (float(n) for n in re.findall(r"M([\d.]+) 6H([\d.]+)V", most)[0])
    other_arm, _ = (float(n) for n in re.findall(r"M([\d.]+) 6H([\d.]+)V", least)[0])

    assert arm < at < other_arm


@pytest.mark.parametrize("change", [{"value": None}, {"limit": None}, {"limit": 0.0}])
def test_no_gauge_without_both_figures(change: dict[str, float | None]) -> None:
    value, limit = change.get("value", 32.0), change.get("limit", 25.0)

    assert gauge(replace(FINDING, value=value, limit=limit), on_paper()) == ""


def test_a_gauge_says_its_figures() -> None:
    assert "32\u00a0A, at most 25\u00a0A" in gauge(FINDING, on_paper())
    assert "<text" not in gauge(FINDING, on_paper(), lettered=False)


def _dot_and_bracket(svg: str) -> tuple[float, float]:
    dot = re.search(r'<circle cx="([\d.]+)"', svg)
    bracket = re.search(r"6H([\d.]+)V22", svg)
    assert dot
    assert bracket
    return float(dot[1]), float(bracket[1])
