"""Readings in the pack: against the edition's limits, blank where none was taken."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest

from boardwright.core.errors import FieldError
from boardwright.core.findings import Verdict
from boardwright.documents.pack.content import content
from boardwright.documents.pack.householder import householder
from boardwright.documents.pack.results import readings, readings_line
from boardwright.documents.readings.file import read_readings
from boardwright.documents.readings.judged import judged
from boardwright.documents.readings.taken import NOTHING_YET, OnSite
from boardwright.documents.words.inspection import months_after, next_inspection
from boardwright.documents.words.labels import labels
from tests.documents.small import small_design

TABLE = """place,reading,value,subject
Kitchen sockets,r1,0.50,circuits.sockets.r1_ohm
Kitchen sockets,rn,0.58,circuits.sockets.rn_ohm
Kitchen sockets,L-N,>999,circuits.sockets.ir_live_mohm
Kitchen sockets,L-E,0.6,circuits.sockets.ir_earth_mohm
Kitchen sockets,Zs,0.62,circuits.sockets.zs_ohm
Shower,Zs,0.87,circuits.shower.zs_ohm
Shower,Zs,0.91,circuits.shower.zs_ohm
Shower,Polarity,LIM,circuits.shower.polarity
Origin,Ze,,origin.ze_ohm
,,M-4417,instrument.multifunction
,,2026-11-25,issued.on
"""


def _taken() -> OnSite:
    return read_readings(TABLE, small_design())


def test_the_form_has_the_editions_limits_and_room_for_a_pen() -> None:
    design = small_design()
    form = readings(design, NOTHING_YET)
    limits = " ".join(form["limits"]).replace("\u00a0", " ")
    zs = [row["cells"][7] for row in form["rows"]]

    assert f"within {design.edition.number('rcd.time_s') * 1000:g} ms" in limits
    assert f"at least {design.edition.number('ir.min_mohm'):g} MΩ" in limits
    assert design.edition.entry("rcd.time_s").clause in limits
    # 43.7 / 32 = 1.3656; times 0.8, cut to two decimals (practice: rounded down): 1.09.
    assert [cell["limit"] for cell in zs] == ["≤ 0.87", "≤ 1.09"]
    assert {cell["value"] for cell in zs} == {""}
    assert [row["cells"][0]["value"] for row in form["rows"]] == ["N/A", ""]
    assert all(value == "" for _, value in form["instruments"])


def test_each_reading_has_its_verdict() -> None:
    found = {
        each.subject: each for own in judged(small_design(), _taken()).values() for each in own
    }

    # BS 7671, 643.3 and Table 64: at least 1 MΩ; a tester's >999 proves more than that.
    assert found["circuits.sockets.ir_live_mohm"].verdict is Verdict.PASS
    assert found["circuits.sockets.ir_earth_mohm"].verdict is Verdict.FAIL
    # The ends of a ring agree within 0.05 Ω (common practice of ring continuity testing).
    assert found["circuits.sockets.rn_ohm"].verdict is Verdict.FAIL
    assert found["circuits.sockets.zs_ohm"].verdict is Verdict.PASS
    assert found["circuits.shower.zs_ohm"].verdict is None
    assert found["circuits.shower.polarity"].verdict is None
    assert found["origin.ze_ohm"].values == ()


def test_the_schedule_shows_what_was_typed() -> None:
    design, site = small_design(), _taken()
    form = readings(design, site)
    shower, sockets = (row["cells"] for row in form["rows"])
    outside = " ".join(f"{each['what']} {each['said']}" for each in form["outside"])

    assert [sockets[4]["value"], sockets[4]["mark"]] == [">999", "pass"]
    assert [sockets[5]["value"], sockets[5]["mark"]] == ["0.6", "fail"]
    assert shower[7]["value"] == "0.87 / 0.91"
    assert shower[6]["value"] == "LIM"
    assert "not agreed" in outside
    assert "at least 1\u00a0MΩ. Fail." in outside
    assert "LIM" not in outside
    assert ["Multifunction", "M-4417"] in form["instruments"]
    assert "two fail, one is not agreed" in readings_line(design, site)
    assert ("Readings", form["said"]) in content(design, site)["answer"]["facts"]


def test_columns_are_in_tester_order() -> None:
    design = small_design()
    heads = [name for name, _ in readings(design, NOTHING_YET)["heads"]]
    symbols = [e.limit.symbol for e in judged(design, NOTHING_YET)["sockets"]]
    places = [heads.index(symbol) for symbol in symbols if symbol in heads]

    # Continuity before insulation before live tests: BS 7671, 643.1, order of the tests.
    assert len(places) > 5
    assert all(one < other for one, other in pairwise(places))


@pytest.mark.parametrize(
    ("table", "found", "expected"),
    [
        ("place,value\n", "place, value", "names subject"),
        ("subject,value\ncircuits.loft.zs_ohm,1\n", "circuits.loft.zs_ohm", "of this home"),
        ("subject,value\ncircuits.shower.zs_ohm,-1\n", "-1", "figure in Ω"),
        ("subject,value\ncircuits.shower.zs_ohm,nan\n", "nan", "figure in Ω"),
        ("subject,value\ncircuits.shower.polarity,0.3\n", "0.3", "yes or no"),
        ("subject,value\ninstrument.spoon,4\n", "instrument.spoon", "instrument.loop"),
        ("subject,value\nissued.on,25/11/26\n", "25/11/26", "2026-11-25"),
    ],
)
def test_a_table_that_cannot_be_used_is_one_sentence(table: str, found: str, expected: str) -> None:
    with pytest.raises(FieldError) as caught:
        read_readings(table, small_design())

    assert str(caught.value.found) == found
    assert expected in str(caught.value)


def test_the_next_inspection_is_counted_or_left_with_its_interval() -> None:
    design = small_design()
    issued = date(2026, 11, 25)
    months = round(design.edition.number("notice.inspection_months"))
    counted = next_inspection(design, issued)
    card = next(c for c in labels(design, issued)["cards"] if c["title"] == "Next inspection")
    blank = next(c for c in labels(design)["cards"] if c["title"] == "Next inspection")

    assert counted.day.replace("\u00a0", " ") == f"25 November {2026 + months // 12}"
    assert counted.day in card["lines"][1]
    assert blank["lines"][1].endswith(":")
    assert counted.usual in blank["lines"][2]
    assert "from memory" in card["source"]
    assert counted.day in householder(design, OnSite(issued_on=issued))["ask"][-1]
    assert householder(design)["ask"][-1] == "Due by:"


def test_a_home_that_is_let_is_inspected_sooner() -> None:
    # Five years at most between inspections: Electrical Safety Standards in the Private Rented
    # Sector (England) Regulations 2020, regulation 3 (from memory).
    design = small_design()
    premises = design.job.premises.model_copy(update={"occupier": "tenant"})
    job = design.job.model_copy(update={"premises": premises})

    found = next_inspection(replace(design, job=job), date(2026, 11, 25))

    assert found.day.replace("\u00a0", " ") == "25 November 2031"
    assert "Private Rented" in found.source
    assert found.let == ""


def test_months_are_counted_on_the_calendar() -> None:
    # A leap day has no like in another year; the 28th stands in every month.
    assert months_after(date(2024, 2, 29), 12) == date(2025, 2, 28)
    assert months_after(date(2026, 11, 25), 1) == date(2026, 12, 25)
    assert months_after(date(2026, 12, 1), 1) == date(2027, 1, 1)
