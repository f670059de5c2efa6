"""The text papers on a small design whose every figure is known."""

from dataclasses import replace

from boardwright.core.findings import Finding, Known, Rule, Verdict
from boardwright.documents.answers.summary import LINES, summary
from boardwright.documents.lists import findings, materials, steps, wiring_table
from boardwright.documents.words.plain import WIDTH, Column, table
from tests.documents.small import FINDINGS, WIRING, small_design, with_findings, with_wiring


def test_every_text_paper_fits_the_terminal() -> None:
    for paper in (findings, materials, steps, wiring_table):
        assert max(map(len, paper.build(small_design()).splitlines())) <= WIDTH


def test_findings_stand_gravest_first_with_clause_and_confidence() -> None:
    text = findings.build(small_design())
    places = [text.index(word) for word in ("Fail  ", "Not known  ", "Advise  ", "3 within")]

    assert places == sorted(places)
    assert "534.4.5 · BS 7671:2018+A4:2026 · carried from the edition before" in text
    assert "544.1.1 · BS 7671:2018+A4:2026 · from memory" in text
    assert "Do: Fit a 25\u00a0A breaker." in text
    assert "32\u00a0A, at most 25\u00a0A" in text


def test_what_passes_is_a_count_until_asked_for() -> None:
    assert "Within" not in findings.build(small_design())
    assert "Within     Board\n           The board withstands 16,000\u00a0A here." in (
        findings.build_all(small_design())
    )


def test_the_conductor_table_is_in_the_order_of_work() -> None:
    text = wiring_table.build(small_design())
    rows = [line.split() for line in text.splitlines() if line.strip()[:1].isdigit()]

    assert [row[0] for row in rows] == ["3", "4"]
    assert " ".join(rows[0]) == "3 SPD PE, top Earth bar 2 earth 6 71 2.5 / 2.0"
    assert rows[1][-2:] == ["2.0", "existing"]
    assert "the longer way to earth is 0.41 m" in text


def test_a_caution_that_still_applies_is_not_repeated() -> None:
    text = steps.build(small_design())

    assert text.count("CAUTION: Parts are live.") == 1
    assert text.count("CAUTION: Dead, proved.") == 1
    assert text.index("CAUTION: Parts are live.") < text.index("  1  Isolate (parts are live)")


def test_the_sum_says_what_it_leaves_out() -> None:
    text = materials.build(small_design())

    assert "Together £84.50; 1 without a price are not in the sum." in text


def test_the_summary_fits_one_screen_whatever_was_found() -> None:
    rule = Rule("1", "e", Known.FOUND)
    many = tuple(
        Finding(f"c.{n}", verdict, f"Subject {n}", "m " * 60, rule, remedy=f"Do {n} " + "w " * 60)
        for n, verdict in enumerate([Verdict.FAIL] * 30 + [Verdict.UNKNOWN] * 30)
    )
    for found in ((), FINDINGS, many, tuple(replace(f, first=True) for f in many)):
        lines = summary(with_findings(small_design(), found)).splitlines()

        assert len(lines) <= LINES
        assert max(map(len, lines)) <= WIDTH
        assert lines[1].startswith("The board fits.")


def test_the_summary_counts_what_it_has_no_room_for() -> None:
    rule = Rule("1", "e", Known.FOUND)
    many = tuple(
        Finding(f"c.{n}", Verdict.FAIL, f"S{n}", "m", rule, remedy=f"Do {n}") for n in range(40)
    )
    lines = summary(with_findings(small_design(), many)).splitlines()
    shown = sum(line.startswith("Fail") for line in lines)

    assert f"… and {40 - shown} more" in lines


def test_a_board_without_an_spd_says_none() -> None:
    design = with_wiring(small_design(), replace(WIRING, spd_leads=None))
    choice = replace(design.chosen.spd, candidate=None)
    bare = replace(design, variants=(replace(design.chosen, spd=choice),))

    assert "SPD     none" in summary(bare)
    assert "SPD leads" not in wiring_table.build(bare)


def test_a_cell_too_long_runs_on_below_itself() -> None:
    text = table((Column("Name", widest=10), Column("A", figures=True)), [["one two three", "5"]])

    assert text.splitlines()[2:] == ["one two     5", "three"]
