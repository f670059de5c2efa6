"""The spreadsheet's file, read back by Python's own reader (RFC 4180 form)."""

import csv
from dataclasses import replace

from boardwright.documents.lists import wiring_csv
from tests.documents.small import WIRING, small_design, with_wiring


def test_every_conductor_is_read_back() -> None:
    rows = list(csv.DictReader(wiring_csv.build(small_design()).splitlines()))
    conductors = {conductor.id: conductor for conductor in WIRING.conductors}

    assert [row["id"] for row in rows] == ["spd-pe", "core-shower"]
    for row in rows:
        conductor = conductors[row["id"]]
        assert float(row["size_mm2"]) == conductor.csa_mm2
        assert row["from"] == conductor.begin.label
        assert row["to"] == conductor.end.label
        assert int(row["step"]) == conductor.step
        assert row["function"] == conductor.function
        assert row["origin"] == conductor.origin.value


def test_only_what_is_cut_has_a_length() -> None:
    new, existing = csv.DictReader(wiring_csv.build(small_design()).splitlines())

    assert (new["cut_mm"], new["torque_from_nm"], new["strip_to_mm"]) == ("71", "2.5", "12")
    assert (existing["cut_mm"], existing["torque_from_nm"]) == ("", "")


def test_a_name_cannot_become_a_formula() -> None:
    conductors = tuple(
        replace(conductor, begin=replace(conductor.begin, label=label))
        for conductor, label in zip(WIRING.conductors, ("=2+5", '@SUM(A1);"x", y'), strict=True)
    )
    design = with_wiring(small_design(), replace(WIRING, conductors=conductors))
    cells = [row["from"] for row in csv.DictReader(wiring_csv.build(design).splitlines())]

    assert cells == ['\'@SUM(A1);"x", y', "'=2+5"]
