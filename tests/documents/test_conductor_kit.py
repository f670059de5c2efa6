"""The conductor kit: the same copper as the materials, the same reach as the check."""

from __future__ import annotations

from dataclasses import replace

import pytest

from boardwright.core.findings import Verdict
from boardwright.documents.lists.conductor_kit import build, end_label, reaches, reels
from boardwright.documents.words.plain import WIDTH
from boardwright.wiring.results import Origin
from tests.documents.golden import example

HOMES = ("semi", "semi-split", "cottage", "flat", "three-phase")
WITHOUT_SUBMAIN = ("semi", "semi-split", "cottage", "three-phase")


@pytest.mark.slow
@pytest.mark.parametrize("home", WITHOUT_SUBMAIN)
def test_the_reels_are_those_of_the_materials(home: str) -> None:
    """The list of materials sells half metres: never less than the kit draws, never 0.5 m more."""
    design = example(home)
    bought = {m.id: m.count for m in design.chosen.wiring.materials}
    kit = reels(design)

    assert {f"conductor-{r.csa_mm2:g}-{r.colour}" for r in kit} == {
        name for name in bought if name.startswith("conductor-")
    }
    for reel in kit:
        spare_m = bought[f"conductor-{reel.csa_mm2:g}-{reel.colour}"] - reel.drawn_m
        assert -1e-9 <= spare_m < 0.5
    assert sum(reel.ferrules for reel in kit) == bought["ferrule"]


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_every_piece_is_labelled_at_both_ends_the_other_way_round(home: str) -> None:
    design = example(home)
    pieces = [piece for reel in reels(design) for piece in reel.pieces]
    labels = [end_label(p.begin, p.end, design.chosen) for p in pieces]
    mirrored = [end_label(p.end, p.begin, design.chosen) for p in pieces]

    assert len(set(labels + mirrored)) == 2 * len(pieces)
    assert [" → ".join(reversed(label.split(" → "))) for label in labels] == mirrored
    assert all(label in build(design) for label in labels + mirrored)


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_short_cores_are_those_that_the_check_fails(home: str) -> None:
    """``wiring.reach`` judges each circuit by its longest core; the kit tells every core."""
    design = example(home)
    short = {
        core.begin.terminal.rpartition(".")[0].removeprefix("cable-").removesuffix("-2")
        for core in design.chosen.wiring.conductors
        if core.origin is Origin.EXISTING
        for circuit in design.job.circuits
        if core.begin.terminal.rpartition(".")[0]
        in {f"cable-{circuit.id}", f"cable-{circuit.id}-2"}
        if circuit.cable.reach_mm is not None
        if reaches(core, circuit.cable.reach_mm).endswith("short")
    }
    judged = {
        f.subject_id
        for f in design.chosen.findings
        if f.check == "wiring.reach"
        and f.verdict is Verdict.FAIL
        and f.subject_id in {c.id for c in design.job.circuits}
    }

    assert short == judged


@pytest.mark.slow
def test_a_core_is_told_how_far_it_is_from_its_way() -> None:
    """By hand: 102.3 mm wanted and 80 mm there are 22 mm short; 110 mm are 8 mm over."""
    wires = example("semi").chosen.wiring.conductors
    core = replace(next(c for c in wires if c.id == "x-cooker-l"), length_mm=102.3)

    assert reaches(core, 80) == "22 mm short"
    assert reaches(core, 110) == "reaches, 8 mm over"
    assert reaches(core, None) == "not known: measure it"


@pytest.mark.slow
@pytest.mark.parametrize("home", HOMES)
def test_the_kit_fits_a_terminal_and_cuts_no_submain(home: str) -> None:
    design = example(home)
    text = build(design)

    assert [line for line in text.splitlines() if len(line) > WIDTH] == []
    assert all(p.length_mm < 8000 for reel in reels(design) for p in reel.pieces)
