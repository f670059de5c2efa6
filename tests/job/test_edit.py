"""Fields set one by one: what was not touched stays as it was written."""

from __future__ import annotations

import difflib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.core.errors import BoardwrightError
from boardwright.job.edit import Edit, edited
from boardwright.job.read import parse_job
from tests.web.conftest import HOMES

SEMI = (HOMES / "semi.yaml").read_text(encoding="utf-8")


def _changed(before: str, after: str) -> list[str]:
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    return [line for line in lines if line[0] in "+-" and line[:3] not in ("+++", "---")]


def test_one_field_changes_one_line_and_keeps_its_comment() -> None:
    after = edited(SEMI, [Edit("supply.ze_ohm", "0.31")])

    assert len(_changed(SEMI, after)) == 2
    assert "ze_ohm: 0.31          # read with the means of earthing apart" in after


def test_nothing_as_a_value_means_not_known_yet() -> None:
    after = edited(SEMI, [Edit("supply.ze_ohm", None)])

    assert parse_job(after, "semi").supply.ze_ohm is None


def test_a_circuit_comes_and_goes_by_its_id() -> None:
    cable = {"line_mm2": 1.5, "cpc_mm2": 1, "length_m": 20}
    new = {"id": "porch", "name": "Porch", "serves": "lighting", "cable": cable}
    with_porch = edited(SEMI, [Edit("circuits.porch", new)])

    assert parse_job(with_porch, "semi").circuit("porch").cable.length_m == 20
    assert edited(with_porch, [Edit("circuits.porch", None)]) == SEMI


def test_the_one_way_that_a_person_gave_gives_way_to_another() -> None:
    first = edited(SEMI, [Edit("wishes.ways.shower", 4)])
    second = edited(first, [Edit("wishes.ways.shower", None), Edit("wishes.ways.cooker", 5)])

    assert parse_job(second, "semi").wishes.ways == {"cooker": 5}


def test_a_value_that_was_typed_over_is_no_longer_assumed() -> None:
    path = "supply.tails.length_m"
    assumed = edited(SEMI, [Edit(path, 2.5, assumed=True)])
    known = edited(assumed, [Edit(path, 2.5)])

    assert path in parse_job(assumed, "semi").assumed
    assert path not in parse_job(known, "semi").assumed


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ("supply.ze_ohm", "0,31", "Write 0.31 with a point"),
        ("supply.ze_ohm", True, "supply.ze_ohm"),
        ("supply.zee_ohm", 1, "a key of this section"),
        ("title.first", 1, "the dotted path of a field"),
        ("circuits.shower.cable.length_m.x", 1, "the dotted path of a field"),
        ("", 1, "a key of this section"),
        ("circuits.porch.name", "Porch", "circuits.porch.cable: found nothing"),
        ("circuits", None, "circuits"),
        ("circuits.shower.room", "bell\a", "circuits.shower.room: .* signs that can be seen"),
    ],
)
def test_what_cannot_be_set_is_told(path: str, value: object, said: str) -> None:
    with pytest.raises(BoardwrightError, match=said):
        edited(SEMI, [Edit(path, value)])


_VALUES = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20)
_TREES = st.recursive(_VALUES, lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner))
_PATHS = st.lists(
    st.sampled_from(["supply", "circuits", "shower", "cable", "ze_ohm", "way", "#1", "wishes"])
    | st.text(max_size=8),
    max_size=5,
).map(".".join)


@given(path=_PATHS, value=_TREES)
@settings(max_examples=200, deadline=None)
def test_whatever_is_sent_is_a_job_or_a_sentence(path: str, value: object) -> None:
    try:
        after = edited(SEMI, [Edit(path, value)])
    except BoardwrightError as error:
        assert str(error)  # noqa: PT017 - either way is right; a traceback is not
    else:
        parse_job(after, "semi")


@pytest.mark.parametrize(
    "wishes", ["  ways:\n    boiler: 4\n    cooker: 5\n", "  ways: {boiler: 4, cooker: 5}\n"]
)
def test_keys_of_a_person_s_own_go_one_by_one_and_all(wishes: str) -> None:
    spare = "  spare_ways: 2\n"
    text = (HOMES / "semi.yaml").read_text().replace(spare, f"{spare}{wishes}")

    one = edited(text, [Edit("wishes.ways.boiler", None)])
    none = edited(text, [Edit("wishes.ways", None)])
    more = edited(text, [Edit("wishes.ways.shower", 7)])

    assert parse_job(one, "semi").wishes.ways == {"cooker": 5}
    assert parse_job(none, "semi").wishes.ways == {}
    assert parse_job(more, "semi").wishes.ways == {"boiler": 4, "cooker": 5, "shower": 7}
    # The comment of another wish is still there.
    assert all("the tails rise on the left" in each for each in (one, none, more))
