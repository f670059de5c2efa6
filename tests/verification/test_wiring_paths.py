"""Channels and the SPD's leads, against cases measured by hand."""

from dataclasses import replace

import pytest

from boardwright.board.arrange import arrange
from boardwright.core.findings import Finding, Verdict
from boardwright.design import design
from boardwright.verification import wiring_paths as checks
from boardwright.verification.facts import Facts
from boardwright.wiring.channels import channels
from boardwright.wiring.results import Conductor, End, Origin, Point, Wiring
from boardwright.wiring.wire import wire
from tests.board.boards import catalogue
from tests.board.homes import edition, home, planned, spd_for
from tests.verification.test_board import _semi


def _conductor(name: str, function: str, path: tuple[Point, ...], **more: str) -> Conductor:
    ends = (more.get("begin", f"{name}.a"), f"{name}.b")
    begin, end = (End(t, t, None, None) for t in ends)
    group = more.get("group", "")
    return Conductor(
        name, begin, end, function, 6.0, "brown", Origin.NEW, path, 0.0, 0.0, group=group
    )


def _said(*conductors: Conductor) -> dict[str, Finding]:
    facts: Facts = replace(_semi(), wiring=Wiring(conductors, None, (), ()))
    return {f.subject: f for f in checks.spd_leads_keep_together(facts)}


LINE = _conductor("spd-l", "L", ((100, 200, 30), (100, 300, 30)))


@pytest.mark.parametrize(("x_mm", "verdict"), [(110, Verdict.PASS), (300, Verdict.ADVISE)])
def test_line_and_earth_of_the_spd_run_together(x_mm: float, verdict: Verdict) -> None:
    earth = _conductor("spd-pe", "PE", ((x_mm, 200, 30), (x_mm, 300, 30)))

    finding = _said(LINE, earth)["SPD line and earth"]

    assert finding.verdict is verdict
    assert finding.value == x_mm - 100


@pytest.mark.parametrize(
    ("x_mm", "length_mm", "verdict"),
    [(105, 400, Verdict.ADVISE), (105, 140, Verdict.PASS), (130, 400, Verdict.PASS)],
)
def test_they_keep_off_the_conductors_of_circuits(
    x_mm: float, length_mm: float, verdict: Verdict
) -> None:
    line = _conductor("spd-l", "L", ((100, 0, 30), (100, 500, 30)))
    earth = _conductor("spd-pe", "PE", ((95, 0, 30), (95, 500, 30)))
    core = _conductor("x-ring-l", "L", ((x_mm, 0, 15), (x_mm, length_mm, 15)), begin="cable-ring.L")

    finding = _said(line, earth, core)["SPD leads and other circuits"]

    assert finding.verdict is verdict
    assert finding.value == (length_mm if x_mm == 105 else 0)


def test_the_fill_of_a_channel_is_that_of_its_fullest_place() -> None:
    """Two of 6 mm², 4.6 mm thick, meet over 20 mm; a third runs beyond them."""
    found = arrange(planned(home("semi")), home("semi").wishes)
    bar_mm = next(b.y_mm for b in found.enclosure.bars if b.conductor == "PE")
    y_mm = (bar_mm + found.enclosure.rails[0].y_mm + 42) / 2
    runs = ((100, 160), (140, 200), (220, 260))
    conductors = [
        _conductor(f"c{k}", "PE", ((a, y_mm, 30), (b, y_mm, 30))) for k, (a, b) in enumerate(runs)
    ]

    there = channels(found, conductors)

    taken = [channel.taken_mm for channel in there if channel.taken_mm]
    assert taken == [pytest.approx(2 * 4.6)]


def test_every_home_tells_the_fill_of_its_channels() -> None:
    made = design(home("semi"), catalogue(), edition())

    (finding,) = [f for f in made.findings if f.check == "wiring.channel"]

    assert finding.value is not None
    assert 0 < finding.value <= 100
    assert "above rail" in finding.message


def test_only_where_the_maker_allows_it_conductors_pass_behind_the_rail() -> None:
    job = home("semi")
    board = planned(job)
    spd = spd_for(job, board.enclosure)
    found = arrange(board, job.wishes)
    allowed = found.enclosure.model_copy(update={"wires_behind_rail": True})

    round_it = wire(found, job, spd, edition())
    behind = wire(replace(found, enclosure=allowed), job, spd, edition())

    def deep(wiring: Wiring) -> set[str]:
        cables = ("cable-",)
        return {
            c.id
            for c in wiring.conductors
            if not c.begin.terminal.startswith(cables) and any(z < 30 for _, _, z in c.path)
        }

    assert deep(round_it) == set()
    for name in deep(behind):
        length = {w: next(c.route_mm for c in w.conductors if c.id == name) for w in (behind,)}
        before = next(c.route_mm for c in round_it.conductors if c.id == name)
        assert length[behind] <= before
