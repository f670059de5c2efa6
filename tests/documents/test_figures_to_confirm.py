"""What to look up in one's own copy: named, counted, and taken back in once it is signed."""

import tomllib
from functools import cache
from pathlib import Path

import pytest

from boardwright.catalogue.load import load_catalogue
from boardwright.core.errors import FieldError
from boardwright.core.findings import Known
from boardwright.design import Design, design
from boardwright.documents.answers.figures_to_confirm import build, doubts, skeleton
from boardwright.documents.words.plain import WIDTH
from boardwright.job.read import read_job
from boardwright.standards.load import load_edition
from boardwright.standards.trace import Figure
from tests.documents.golden import ROOT, example

pytestmark = pytest.mark.slow

HOMES = ("semi", "semi-split", "cottage", "flat", "three-phase")


@cache
def _skeleton() -> str:
    made = example("semi")
    return skeleton(made, [d for d in doubts(made) if d.is_figure and not d.is_practice])


def _signed(folder: Path) -> Path:
    path = folder / "own.toml"
    text = (
        _skeleton().replace('copy = ""', 'copy = "own"').replace('initials = ""', 'initials = "Q"')
    )
    path.write_text(text)
    return path


def _again(own: Path) -> Design:
    job = read_job(ROOT / "examples" / "semi.yaml")
    return design(job, load_catalogue(), load_edition(job.edition, own))


@pytest.mark.parametrize("home", HOMES)
def test_the_paper_fits_and_is_sorted_by_what_rests_on_each(home: str) -> None:
    made = example(home)
    counts = [len(doubt.rests) for doubt in doubts(made)]
    table = build(made).split("Your own figures\n")[0]

    assert counts == sorted(counts, reverse=True)
    assert min(counts) > 0
    assert max(map(len, table.splitlines())) <= WIDTH


def test_every_doubt_is_from_memory_and_known_to_the_edition() -> None:
    made = example("semi")
    found = doubts(made)

    assert {doubt.stated.rule.known for doubt in found} == {Known.MEMORY}
    assert len({doubt.figure for doubt in found}) == len(found)


def test_the_voltage_factor_bears_on_every_circuit_and_a_found_figure_is_not_listed() -> None:
    found = {doubt.figure: doubt for doubt in doubts(example("semi"))}
    names = {circuit.name for circuit in example("semi").job.circuits}

    assert names <= set(found[Figure("cmin")].subjects)
    assert Figure("spd.leads_max_m") not in found


def test_a_cell_is_listed_for_the_circuits_that_lie_so_and_for_no_other() -> None:
    """10 mm2 is the shower's alone; its route was not seen, so that every method is asked for."""
    found = {doubt.figure: doubt for doubt in doubts(example("semi"))}
    table = "capacity.flat twin and earth.1"

    names = {circuit.name for circuit in example("semi").job.circuits}
    assert names & set(found[Figure(table, "10", "C")].subjects) == {"Shower"}
    assert Figure(table, "6", "A") not in found, "the cooker lies by method C, which was seen"


def test_the_file_is_refused_until_it_is_signed(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(_skeleton())

    with pytest.raises(FieldError, match="copy: found '', expected some words"):
        load_edition(example("semi").edition.name, path)
    assert len(tomllib.loads(_skeleton())["confirmed"]) > 20


def test_once_all_is_confirmed_no_figure_is_left_and_none_has_moved(tmp_path: Path) -> None:
    made, again = example("semi"), _again(_signed(tmp_path))

    assert [d.figure for d in doubts(again) if d.is_figure and not d.is_practice] == []
    own = [f for f in again.findings if f.check == "edition.own_figure"]
    assert {f.rule.note for f in own} == {f"confirmed; own, Q, {made.job.designed_on}"}
    before = sorted((f.check, f.subject_id, f.message) for f in made.findings)
    after = sorted((f.check, f.subject_id, f.message) for f in again.findings if f not in own)
    assert before == after


def test_no_figure_of_the_file_goes_unused(tmp_path: Path) -> None:
    """Two ways of finding out agree: what the paper lists, the design says it asked for."""
    again = _again(_signed(tmp_path))
    unused = [f.subject for f in again.findings if "nothing in this design" in f.message]

    assert unused == []
