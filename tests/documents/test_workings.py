"""Workings on paper: two circuits of the semi word for word, and every page that must fit.

Run this file to write the golden texts anew, then read the difference.
"""

import re

import pytest
from typer.testing import CliRunner

from boardwright.cli import app
from boardwright.core.errors import FieldError
from boardwright.documents.words.plain import WIDTH
from boardwright.documents.workings import workings
from boardwright.documents.workings.workings import Row, build, build_one, rows, shared_rows
from tests.documents.golden import ROOT, example, golden
from tests.documents.small import small_design

OPENED = ("shower", "kitchen-ring")
HOMES = ("semi", "semi-split", "cottage", "flat", "three-phase")


def _file(circuit_id: str) -> str:
    return f"working-{circuit_id}.txt"


def _of(found: tuple[Row, ...], sign: str) -> Row:
    return next(row for row in found if row.sign == sign)


def _plain(text: str) -> str:
    return text.replace("\u00a0", " ")


@pytest.mark.slow
@pytest.mark.parametrize("circuit_id", OPENED)
def test_a_working_is_as_it_was_reviewed(circuit_id: str) -> None:
    text = build_one(example("semi"), circuit_id)

    assert text.encode() == golden("semi", _file(circuit_id)).read_bytes()


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_the_workings_of_every_home_fit_and_name_every_circuit(home: str) -> None:
    design = example(home)
    text = build(design)

    assert max(map(len, text.splitlines())) <= WIDTH
    assert [c.name for c in design.job.circuits if f"\n{c.name}\n─" not in text] == []


@pytest.mark.slow
def test_the_showers_current_is_a_division_anyone_can_do() -> None:
    """9.5 kW at 230 V is 41.3 A: the trade's own example of a shower."""
    row = _of(rows(example("semi"), "shower"), "Ib")

    assert (row.in_signs, _plain(row.in_figures), _plain(row.value)) == (
        "P / U0",
        "9.5 kW / 230 V",
        "41.3 A",
    )


@pytest.mark.slow
def test_the_limit_of_a_ring_is_that_of_table_41_3() -> None:
    """BS 7671 Table 41.3: 1.37 ohm for a B32."""
    row = _of(rows(example("semi"), "kitchen-ring"), "Zs max")

    assert _plain(row.value) == "1.37 Ω"
    assert _plain(row.in_figures) == "230 V · 0.95 / (32 A · 5)"
    assert row.source.startswith("411.4.4 and Table 41.3")


@pytest.mark.slow
def test_the_level_at_the_board_is_the_one_that_the_finding_has() -> None:
    design = example("semi")
    finding = next(f for f in design.findings if f.check == "spd.up_effective")
    levels = [_plain(row.value) for row in shared_rows(design) if row.sign == "Up/f"]

    assert finding.value is not None
    assert f"{round(finding.value / 1000, 2):g} kV" in levels


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_no_step_lacks_both_a_sum_and_a_word_of_where_it_comes_from(home: str) -> None:
    design = example(home)
    found = [row for c in design.job.circuits for row in rows(design, c.id)]
    found += shared_rows(design)

    assert [r.sign for r in found if not (r.in_signs or r.note or r.source)] == []
    assert [r.sign for r in found if re.search(r"[{}]|None|nan", r.in_signs + r.in_figures)] == []


@pytest.mark.slow
def test_a_command_opens_one_circuit_and_names_those_there_are() -> None:
    semi = str(ROOT / "examples" / "semi.yaml")
    ran = CliRunner().invoke(app, ["working", semi, "shower"])
    wrong = CliRunner().invoke(app, ["working", semi, "showre"])

    assert ran.output == build_one(example("semi"), "shower")
    assert isinstance(wrong.exception, FieldError)
    assert str(wrong.exception).startswith("circuit: found 'showre', expected one of shower, cook")


def test_what_is_not_known_is_said_so() -> None:
    assert workings.NOT_KNOWN in {row.value for row in shared_rows(example("cottage"))}


def test_a_small_design_has_workings_too() -> None:
    assert build(small_design()).startswith("Workings: 7 Heron Terrace")


def main() -> None:
    """Write the golden workings of the semi."""
    for circuit_id in OPENED:
        text = build_one(example("semi"), circuit_id)
        golden("semi", _file(circuit_id)).write_bytes(text.encode())


if __name__ == "__main__":
    main()
