"""Workings: what is shown is what was computed, and the formula that is printed gives it."""

import random
from collections.abc import Iterable
from functools import cache
from math import sqrt
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.load import load_catalogue
from boardwright.circuits.plan import plan_circuits
from boardwright.circuits.results import CircuitPlan, CircuitResult
from boardwright.circuits.working import formulas
from boardwright.circuits.working.circuit import working
from boardwright.circuits.working.home import board_working, demand_working
from boardwright.circuits.working.step import SIGNS, Formula, Step, sign_of
from boardwright.core.errors import BoardwrightError
from boardwright.job.job import Job
from boardwright.job.read import read_job
from boardwright.standards.edition import Edition
from boardwright.standards.load import editions, load_edition
from tests.circuits.build import EDITION, NOTHING, home, raw_circuit
from tests.design.homes import home as random_home

EXAMPLES = Path(__file__).parents[2] / "examples"
HOMES = sorted(path.stem for path in EXAMPLES.glob("*.yaml"))
CALM = settings(deadline=None, derandomize=True)
FORMULAS = [
    *(value for value in vars(formulas).values() if isinstance(value, Formula)),
    formulas.with_factors(("ca_factor", "cg_factor", "ci_factor", "cf_factor")),
    formulas.along(formulas.DROP, ring=True, behind=True),
    formulas.along(formulas.LOOP_COLD, ring=True),
]

# The figure of a result that the last step of a name must be.
SAME = (
    "ib_a",
    "in_a",
    "it_a",
    "it_needed_a",
    "iz_a",
    "volt_drop_v",
    "volt_drop_limit_v",
    "r1r2_20c_ohm",
    "zs_ohm",
    "zs_max_ohm",
    "disconnection_s",
    "ipf_min_a",
    "adiabatic_mm2",
    "leakage_a",
)
EXACT = 1e-12
"""Not rounding, but the last binary digits of sums taken in another order."""


def _as_printed(formula: Formula, values: dict[str, float]) -> float:
    """Work out the formula from what stands on paper: its signs are those of arithmetic."""
    sum_ = formula.filled({name: f"({value!r})" for name, value in values.items()})
    for sign, operator in (("·", "*"), ("−", "-"), ("²", "**2"), ("√", "sqrt")):
        sum_ = sum_.replace(sign, operator)
    return float(eval(sum_, {"__builtins__": {}, "sqrt": sqrt}))  # noqa: S307 - our own formulas


def _same(shown: float | None, computed: float | None) -> bool:
    if shown is None or computed is None:
        return shown is computed
    return shown == pytest.approx(computed, rel=EXACT)


def _last(steps: Iterable[Step]) -> dict[str, float | None]:
    return {step.gives: step.value for step in steps}


def _check_steps(steps: Iterable[Step]) -> None:
    for step in steps:
        assert step.sign
        if step.formula is not None:
            assert set(step.formula.names) == step.values.keys()
            printed = _as_printed(step.formula, dict(step.values))
            assert step.value == pytest.approx(printed, rel=EXACT), step.formula.written


def _check_circuit(result: CircuitResult, steps: tuple[Step, ...], ring: bool) -> None:  # noqa: FBT001 - one fact of the circuit
    found = _last(steps)
    for name in SAME:
        # A ring's cable is asked for what the rule for rings says, not for its device's rating.
        if name in found and not (ring and name == "it_needed_a"):
            assert _same(found[name], getattr(result, name)), (name, found[name])
    ct = found["ct_factor"]
    assert ct is not None
    assert min(ct, 1.0) == pytest.approx(result.ct_factor, rel=EXACT)


def _check_home(job: Job, catalogue: Catalogue, edition: Edition) -> CircuitPlan:
    plan = plan_circuits(job, catalogue, edition)
    for circuit in job.circuits:
        steps = working(circuit, plan, job, edition)
        _check_steps(steps)
        _check_circuit(plan.circuit(circuit.id), steps, circuit.topology == "ring")
    board, demand = board_working(plan, job, edition), demand_working(plan, job, edition)
    _check_steps((*board, *demand))
    found = _last(board)
    assert _same(found.get("zdb_ohm"), plan.origin.zdb_ohm)
    assert _same(found.get("ipf_board_max_a"), plan.origin.ipf_board_max_a)
    assert _same(found.get("ipf_board_min_a"), plan.origin.ipf_board_min_a)
    assert found.get("before_v", 0.0) == pytest.approx(plan.origin.submain_volt_drop_v, rel=EXACT)
    assert _same(found.get("submain_iz_a"), plan.origin.submain_iz_a)
    assert _same(found.get("submain_zs_max_ohm"), plan.origin.submain_zs_max_ohm)
    for line, step in zip(plan.demand.lines, demand, strict=False):
        assert step.value == pytest.approx(line.demand_a, rel=EXACT), line.purpose
    assert demand[-1].value == plan.demand.total_a
    return plan


@cache
def _catalogue() -> Catalogue:
    return load_catalogue()


@pytest.mark.parametrize("edition", editions())
@pytest.mark.parametrize("name", HOMES)
def test_every_figure_of_every_example_is_what_was_computed(name: str, edition: str) -> None:
    job = read_job(EXAMPLES / f"{name}.yaml")
    plan = _check_home(job, _catalogue(), load_edition(edition))

    assert len(plan.circuits) == len(job.circuits)


@pytest.mark.parametrize("seed", range(60))
def test_every_figure_of_any_home_is_what_was_computed(seed: int) -> None:
    job = random_home(seed, _catalogue())
    try:
        plan = _check_home(job, _catalogue(), load_edition(job.edition))
    except BoardwrightError as refused:
        # A job that the stage itself refuses has no figures to open.
        with pytest.raises(type(refused)):
            plan_circuits(job, _catalogue(), load_edition(job.edition))
        return

    assert len(plan.circuits) == len(job.circuits)


CABLES = st.fixed_dictionaries(
    {
        "size": st.sampled_from(((1.5, 1.0), (2.5, 1.5), (4.0, 1.5), (10.0, 4.0), (16.0, 6.0))),
        "length_m": st.floats(1, 150),
        "grouped_with": st.integers(0, 8),
    }
)


@CALM
@given(
    st.sampled_from(("shower", "cooker", "lighting", "sockets", "immersion heater", "EV point")),
    CABLES,
    st.floats(50, 12_000),
    st.sampled_from((None, "BS 3036", "BS 88-3", "MCB", "RCBO")),
)
def test_any_circuit_opens_to_what_was_computed(
    serves: str, cable: dict[str, Any], power_w: float, standard: str | None
) -> None:
    line_mm2, cpc_mm2 = cable["size"]
    lies = {key: cable[key] for key in ("length_m", "grouped_with")}
    wanted = {} if standard is None else {"standard": standard, "in_a": 30}
    circuit = raw_circuit(
        serves,
        cable={"line_mm2": line_mm2, "cpc_mm2": cpc_mm2, "method": "C", **lies},
        load={"power_w": power_w},
        wanted=wanted,
    )
    plan = _check_home(home([circuit]), NOTHING, EDITION)

    assert len(plan.circuits) == 1


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.written)
def test_a_printed_formula_is_its_function(formula: Formula) -> None:
    draw = random.Random(formula.written)
    for _ in range(200):
        values = {name: draw.uniform(0.1, 50) for name in formula.names}
        if formula is formulas.COOKER:
            # A load below what is allowed in full is all allowed; the working then shows it so.
            values["full_a"] = min(values["full_a"], values["connected_a"])
        assert formula.function(**values) == pytest.approx(
            _as_printed(formula, values), rel=1e-9
        ), formula.written


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.written)
def test_a_formula_is_the_designs_own_function(formula: Formula) -> None:
    """A working may show a sum, never do it: what it calls lies outside its own folder."""
    home_of = formula.function.__module__

    assert home_of.startswith("boardwright.circuits.")
    assert not home_of.startswith("boardwright.circuits.working")


def test_a_distribution_circuit_opens_to_its_capacity_and_its_largest_loop() -> None:
    """10 mm² armoured carries least in the ground, 60 A (Table 4D4A, from memory).

    Its loop: 1.00 Ω behind 45 A of BS 88-3 in 5 s (Table 41.4, from memory), and behind a breaker
    of curve B 230·0.95/(5·40) = 1.09 Ω (Table 41.3).
    """
    for standard, fuse_a, most_ohm in (("BS 88-3", 45, 1.00), ("MCB B", 40, 1.0925)):
        submain = {
            "cable": "swa 90", "line_mm2": 10, "cpc_mm2": 10, "length_m": 25,
            "fuse_a": fuse_a, "fuse_standard": standard,
        }  # fmt: skip
        job = home([raw_circuit()], supply={"submain": submain})
        steps = board_working(plan_circuits(job, NOTHING, EDITION), job, EDITION)
        opened = {step.gives: step.value for step in steps if step.part == "Distribution circuit"}

        assert opened["submain_iz_a"] == 60
        assert opened["submain_zs_max_ohm"] == pytest.approx(most_ohm, abs=1e-9)


def test_every_sign_is_written_once_for_a_name_and_used() -> None:
    program = "".join(
        path.read_text(encoding="utf-8")
        for path in (Path(__file__).parents[2] / "src" / "boardwright").rglob("*.py")
        if path.name != "step.py"
    )

    assert [
        name for name in SIGNS if f'"{name}"' not in program and f"{{{name}}}" not in program
    ] == []
    assert (sign_of("load_2_a"), sign_of("share_1_factor")) == ("I2", "f1")
