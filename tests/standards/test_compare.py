"""Editions side by side, and which figures a calculation asks for."""

import pytest

from boardwright.core.findings import Known
from boardwright.standards.compare import differences, figures, stated
from boardwright.standards.edition import AbsentRuleError
from boardwright.standards.load import DEFAULT, editions, load_edition
from boardwright.standards.trace import Figure, Trace, watched

BEFORE, NOW, WORLD = (load_edition(n) for n in ("bs7671_2018_a2_a3", DEFAULT, "iec60364"))


@pytest.mark.parametrize("name", editions())
def test_an_edition_does_not_differ_from_itself(name: str) -> None:
    assert differences(load_edition(name), load_edition(name)) == ()


def test_what_is_carried_is_no_difference() -> None:
    assert [d.figure.key for d in differences(BEFORE, NOW)] == ["assembly.overload"]


def test_the_world_over_a_loop_is_tested_to_two_thirds() -> None:
    """IEC 60364-6, D.6.4.3.7.3, from memory: 2/3 of U0/Ia, for B16 1.917 ohm; here 0.8 of Cmin's.

    The products stand in the project's list of values, C22: 5.111 ohm for B6, 0.958 for B32.
    """
    limits_ohm = [
        WORLD.number("factor.measured_cold") * WORLD.number("cmin") * 230 / (5 * in_a)
        for in_a in (6, 16, 32)
    ]

    assert limits_ohm == pytest.approx([5.111, 1.917, 0.958], abs=5e-4)
    assert NOW.number("factor.measured_cold") * NOW.number("cmin") == pytest.approx(0.76)


def test_the_volt_drop_of_annex_g_is_two_resistances_a_metre() -> None:
    """IEC 60364-5-52 Annex G, from memory: b·rho1·L/S with b 2, rho1 0.0225 ohm mm2/m."""
    rows = WORLD.table("volt_drop_mv_per_a_m.1").rows

    for csa, cells in rows.items():
        assert cells["mv"] == pytest.approx(2 * 22.5 / float(csa), rel=5e-4)


def test_a_duty_of_one_country_is_absent_from_the_world() -> None:
    found = {d.figure.key: d for d in differences(NOW, WORLD)}

    assert found["enclosure.non_combustible"].other is None
    with pytest.raises(AbsentRuleError, match=r"enclosure\.non_combustible"):
        WORLD.rule("enclosure.non_combustible")


def test_what_stands_in_names_where_it_comes_from() -> None:
    rule = WORLD.rule("bonding_pme")

    assert rule.carried
    assert rule.carried_from == BEFORE.title
    assert NOW.rule("bonding_pme").carried_from == ""
    assert {e.known for e in WORLD.entries.values() if not e.carried} == {Known.MEMORY}


def test_every_figure_states_a_value() -> None:
    listed = list(figures(NOW))

    assert len(listed) == len(set(listed)) > 500
    assert all(stated(NOW, figure) for figure in listed)
    assert stated(NOW, Figure("no.such")) is None
    assert stated(NOW, Figure("ca", "99", "factor")) is None


def test_a_watched_edition_says_what_was_asked_and_nothing_more() -> None:
    trace = Trace()
    edition = watched(NOW, trace)

    assert edition.has("cmin")
    assert "C" in edition.table("capacity.flat twin and earth.1").rows["10"]
    assert trace.asked == ()
    assert edition.number("cmin") == NOW.number("cmin")
    assert edition.table("ca").cell("30", "factor") == 1
    assert edition.table("ca").cell("30", "nothing") is None
    assert trace.take() == (Figure("cmin"), Figure("ca", "30", "factor"))
    assert trace.asked == ()


def test_a_watched_edition_holds_the_same_figures() -> None:
    edition = watched(NOW, Trace())

    assert dict(edition.entries) == NOW.entries
    assert {k: {r: dict(c) for r, c in t.rows.items()} for k, t in edition.tables.items()} == {
        k: t.rows for k, t in NOW.tables.items()
    }
