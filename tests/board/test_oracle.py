"""A board of a home's size against another solver and another model of it."""

from itertools import combinations

import pytest
from ortools.sat.python import cp_model

from boardwright.board.arrange import arrange
from boardwright.board.legal import faults
from boardwright.board.results import BoardPlan, Item, Role
from boardwright.job.board import Wishes
from tests.board.boards import BACKUP, SPD, SWITCH, board, circuit, cost, section_rcd, starts_of

RATINGS = (45, 32, 32, 32, 20, 16, 16, 6, 6)
HEAVY = {1, 4, 5, 6}

PLAIN = [
    circuit(
        f"c{k}",
        in_a,
        modules=2 if k == 3 else 1,
        continuous=k in HEAVY,
        ib_a=13.0 if k in HEAVY else 4.0,
        found_way=(7 * k) % 9 + 1,
    )
    for k, in_a in enumerate(RATINGS)
]
SPLIT = [
    circuit(f"s{k}", in_a, section="ab"[k % 2], found_way=k + 1) for k, in_a in enumerate(RATINGS)
]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("items", "wishes"),
    [
        ([SWITCH, BACKUP, SPD, *PLAIN], Wishes()),
        ([SWITCH, BACKUP, SPD, *PLAIN], Wishes(keep_apart=(("c0", "c1"), ("c2", "c3", "c4")))),
        ([SWITCH, BACKUP, SPD, section_rcd("a"), section_rcd("b"), *SPLIT], Wishes()),
    ],
    ids=["plain", "apart", "split"],
)
def test_another_solver_finds_nothing_cheaper(items: list[Item], wishes: Wishes) -> None:
    """OR-tools CP-SAT over start variables and pairwise order, not booleans of places."""
    plan = board(items)

    found = arrange(plan, wishes)

    least = least_cost(plan, wishes)
    assert faults(found) == ()
    assert found.proven
    assert sum(paid.cost for paid in found.preferences) == least
    assert cost(plan, starts_of(plan, found), wishes) == least


def least_cost(plan: BoardPlan, wishes: Wishes) -> int:
    model = cp_model.CpModel()
    widths = {item.id: item.device.modules for item in plan.items}
    room = sum(widths.values())
    at = {name: model.new_int_var(0, room - width, name) for name, width in widths.items()}
    model.add_no_overlap(
        [model.new_fixed_size_interval_var(at[n], w, f"on-{n}") for n, w in widths.items()]
    )
    model.add(at["main-switch"] == 0)
    model.add(at["spd"] == at["spd-backup"] + 1)
    terms = [1000 * (at["spd-backup"] - 2)]
    circuits = [item for item in plan.items if item.role is Role.CIRCUIT]
    terms += [int(item.device.in_a or 0) * (at[item.id] - 2) for item in circuits]
    terms += _letters(model, at, plan)
    target = 5
    for item in sorted(circuits, key=lambda item: item.found_way or 0):
        moved = model.new_int_var(0, room, f"moved-{item.id}")
        model.add_abs_equality(moved, at[item.id] - target)
        terms.append(3 * moved)
        target += widths[item.id]
    heavy = [item.id for item in circuits if item.continuous and item.ib_a >= 10]
    groups = [(300, heavy), *((400, [f"way-{c}" for c in g]) for g in wishes.keep_apart)]
    for weight, group in groups:
        for one, other in combinations(group, 2):
            for left, right in ((one, other), (other, one)):
                meets = model.new_bool_var(f"{left}|{right}")
                model.add(at[right] != at[left] + widths[left]).only_enforce_if(meets.negated())
                terms.append(weight * meets)
    model.minimize(sum(terms))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def _letters(
    model: cp_model.CpModel, at: dict[str, cp_model.IntVar], plan: BoardPlan
) -> list[cp_model.LinearExpr]:
    """Keep sections in runs behind everything else; return what the order of letters costs."""
    rcds = [item for item in plan.items if item.role is Role.SECTION_RCD]
    if not rcds:
        return []
    lengths = {
        rcd.section: sum(i.device.modules for i in plan.items if i.section == rcd.section)
        for rcd in rcds
    }
    first = sum(item.device.modules for item in plan.items if not item.section)
    for item in plan.items:
        begin = first if not item.section else at[f"rcd-{item.section}"]
        if not item.section:
            model.add(at[item.id] + item.device.modules <= begin)
        elif item.role is Role.CIRCUIT:
            model.add(at[item.id] > begin)
            model.add(at[item.id] + item.device.modules <= begin + lengths[item.section])
        else:
            model.add(at[item.id] >= first)
    jumped = model.new_bool_var("b-before-a")
    model.add(at["rcd-a"] < at["rcd-b"]).only_enforce_if(jumped.negated())
    return [500 * jumped]
