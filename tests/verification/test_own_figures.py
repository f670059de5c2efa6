"""The user's own figures: each one says in the findings what it did."""

import shutil
import subprocess
from pathlib import Path

import pytest

from boardwright.catalogue.load import load_catalogue
from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design, design
from boardwright.documents.lists import findings
from boardwright.documents.pack import pack
from boardwright.job.read import read_job
from boardwright.standards.load import DEFAULT, load_edition
from boardwright.web.app import create_app
from tests.web.client import Client
from tests.web.conftest import homes_of

SEMI = Path(__file__).parents[2] / "examples" / "semi.yaml"
SIGNED = 'copy = "BS 7671:2018+A4:2026, own printed copy"\ninitials = "QS"\ndate = 2026-11-20\n'


def _semi(folder: Path, *figures: str) -> Design:
    path = folder / "own.toml"
    path.write_text("".join(f"[[confirmed]]\n{figure}\n{SIGNED}" for figure in figures))
    return design(read_job(SEMI), load_catalogue(), load_edition(DEFAULT, path))


def _own(made: Design) -> list[Finding]:
    return [f for f in made.findings if f.check == "edition.own_figure"]


def test_a_figure_that_replaces_moves_the_limit_and_is_an_open_point(tmp_path: Path) -> None:
    """Cmin 1 in place of 0.95: a B32 disconnects up to 230/160 = 1.4375 ohm."""
    made = _semi(tmp_path, 'key = "cmin"\nvalue = 1.0')
    [own] = _own(made)

    assert own.verdict is Verdict.ADVISE
    assert own.message == "1 stands in place of the figure shipped."
    assert own.rule.note == (
        "replaces 0.95; BS 7671:2018+A4:2026, own printed copy, QS, 2026-11-20"
    )
    assert made.plan.circuit("kitchen-ring").zs_max_ohm == 230 / 160
    text = " ".join(findings.build(made).split())
    assert "Own figure cmin" in text
    assert f"your copy, {own.rule.note}" in text


def test_a_figure_that_confirms_passes(tmp_path: Path) -> None:
    [own] = _own(_semi(tmp_path, 'key = "cmin"\nvalue = 0.95'))

    assert own.verdict is Verdict.PASS
    assert own.rule.note.startswith("confirmed; ")


def test_a_figure_that_nothing_asks_for_is_named(tmp_path: Path) -> None:
    """The semi has no TT electrode; an entry of its own and a cell of a table go unused."""
    made = _semi(
        tmp_path,
        'key = "ze.tt_source_ohm"\nvalue = 20',
        'key = "fuse_zs_ohm.0.4"\nrow = "BS 1362"\ncolumn = "13"\nvalue = 2.3',
        'key = "spd.leads_max_m"\nvalue = 0.9',
    )
    verdicts = {f.subject: f.message for f in _own(made)}

    assert len(verdicts) == 3
    assert "asked for it" in verdicts["Own figure ze.tt_source_ohm"]
    assert "asked for it" in verdicts["Own figure fuse_zs_ohm.0.4, row BS 1362, column 13"]
    assert "in place of" in verdicts["Own figure spd.leads_max_m"]


def test_a_cell_of_a_table_acts_through_the_circuit_it_belongs_to(tmp_path: Path) -> None:
    """A cooker on 6 mm2, method C: 46 A, as the international table has it, for 47 A."""
    key = 'key = "capacity.flat twin and earth.1"\nrow = "6"\ncolumn = "C"\nvalue = 46'
    made = _semi(tmp_path, key)
    overload = next(
        f for f in made.findings if f.check == "circuit.overload" and f.subject_id == "cooker"
    )

    assert overload.limit == 46
    assert "replaces 47;" in overload.rule.note
    assert [f.verdict for f in _own(made)] == [Verdict.ADVISE]


def test_without_own_figures_nothing_is_said_of_them(tmp_path: Path) -> None:
    assert _own(_semi(tmp_path, 'key = "cmin"\nvalue = 0.95'))
    plain = design(read_job(SEMI), load_catalogue(), load_edition(DEFAULT))

    assert _own(plain) == []


@pytest.mark.slow
def test_a_figure_that_moved_the_design_stands_on_the_page_and_in_the_pack(tmp_path: Path) -> None:
    home = tmp_path / "homes"
    home.mkdir()
    shutil.copy(SEMI, home)
    own = tmp_path / "own.toml"
    own.write_text(f'[[confirmed]]\nkey = "cmin"\nvalue = 1.0\n{SIGNED}')
    page = Client(create_app(homes_of(home, own))).get("/jobs/semi/design").text
    pdf = tmp_path / "pack.pdf"
    pdf.write_bytes(pack.build(_semi(tmp_path, 'key = "cmin"\nvalue = 1.0')))
    read = ["pdftotext", "-layout", str(pdf), "-"]
    paper = subprocess.run(read, capture_output=True, text=True, check=True).stdout

    for text in (page, paper):
        assert "Own figure cmin" in text
        assert "replaces 0.95; BS 7671:2018+A4:2026, own printed copy, QS, 2026-11-20" in " ".join(
            text.replace("\u00a0", " ").split()
        )
