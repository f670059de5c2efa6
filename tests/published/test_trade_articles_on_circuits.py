"""Single circuits worked in trade articles and forum threads."""

import pytest

from boardwright.circuits.capacity import required_it_a
from boardwright.circuits.volt_drop import ct_factor, drop_per_a_m, volt_drop_v
from tests.circuits.build import EDITION, leaking, only, planned, raw_circuit
from tests.circuits.build import home as job_of


def _shower(line_mm2: float, method: str, in_a: float) -> tuple[float, float]:
    cable = {"line_mm2": line_mm2, "cpc_mm2": 4, "length_m": 15, "method": method}
    result = only(
        raw_circuit("shower", load={"power_w": 10_000}, wanted={"in_a": in_a}, cable=cable)
    )
    return result.ib_a, result.iz_a


def test_the_ten_kilowatt_shower() -> None:
    """Trade article on the 10 kW shower: 43.48 A (printed 44); B45 with 10 mm² accepted."""
    ib_a, clipped_a = _shower(6, "C", 45)

    assert round(ib_a, 2) == 43.48
    assert clipped_a == 47
    assert _shower(10, "100", 45)[1] == 45
    assert _shower(16, "100", 45)[1] == 57
    # 40 A is under the load, 50 A over the cable under the insulation: 45 A it is.
    assert 40 < ib_a <= 45 <= _shower(10, "100", 45)[1] < 50


def test_a_shower_chooses_its_own_device() -> None:
    cable = {"line_mm2": 10, "cpc_mm2": 4, "length_m": 15, "method": "100"}

    assert only(raw_circuit("shower", load={"power_w": 10_000}, cable=cable)).in_a == 45


@pytest.mark.parametrize(("in_a", "it_a"), [(5, 6.9), (15, 20.7), (20, 27.6), (30, 41.4)])
def test_cable_behind_a_rewirable_fuse(in_a: float, it_a: float) -> None:
    """Factor 0.725: study document of the wiring regulations; forum thread 365630."""
    assert round(required_it_a(in_a, EDITION.number("factor.bs3036")), 1) == it_a


@pytest.mark.parametrize(("line_mm2", "enough"), [(6, True), (4, False)])
def test_a_rewirable_fuse_of_thirty_amperes(line_mm2: float, enough: bool) -> None:  # noqa: FBT001 - a column
    """30 A asks 41.4 A: 6 mm² clipped (47) does, 4 mm² (37) does not."""
    cable = {"line_mm2": line_mm2, "cpc_mm2": 1.5, "length_m": 10, "method": "C"}
    wanted = {"in_a": 30, "standard": "BS 3036"}
    cooker = raw_circuit("cooker", load={"ib_a": 25}, wanted=wanted, cable=cable)
    # A fuse stays only where its board does.
    result = only(cooker, existing_board={"ways": 6}, wishes={"board": "keep"})

    assert (result.in_a <= result.iz_a) is enough


def test_the_longest_ring_is_106_metres() -> None:
    """On-Site Guide, from memory: 2.5/1.5, 26 A, 11.5 V; 106 m with Ct, 98 m without."""
    ct = ct_factor(ib_a=13, it_a=20, ca_factor=1, cg_factor=1)
    per_m_v = volt_drop_v(drop_per_a_m(EDITION, 2.5, 1), 26, 1 / 4)

    assert round(ct, 3) == 0.923
    assert int(11.5 / (per_m_v * ct)) == 106
    assert 11.5 / per_m_v == pytest.approx(98.3, abs=0.05)


def test_a_ring_of_106_metres_passes_only_with_its_true_temperature() -> None:
    cable = {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": 106, "method": "A"}
    result = only(raw_circuit(topology="ring", cable=cable, wanted={"in_a": 32}))

    assert result.volt_drop_v > result.volt_drop_limit_v
    assert result.volt_drop_v * result.ct_factor <= result.volt_drop_limit_v


@pytest.mark.parametrize(
    ("ib_a", "it_a", "cg_factor", "printed"), [(20, 27, 1, 0.9398), (10, 20, 0.8, 0.9480)]
)
def test_temperature_factor_of_volt_drop(
    ib_a: float, it_a: float, cg_factor: float, printed: float
) -> None:
    """BS 7671 Appendix 4, section 6.1, formula from memory."""
    assert round(ct_factor(ib_a, it_a, ca_factor=1, cg_factor=cg_factor), 4) == printed


def test_volt_drop_is_not_r1_plus_r2_times_current() -> None:
    """Wiring textbook, chapter 10: 0.6 Ω x 1.2 x 20 A = 14.4 V is wrong with a smaller cpc.

    The line alone is 0.6 x 7.41/19.51 Ω, and twice that carries the load: 10.94 V.
    """
    line_ohm = 0.6 * 7.41 / 19.51
    length_m = line_ohm / 7.41e-3
    cable = {"line_mm2": 2.5, "cpc_mm2": 1.5, "length_m": length_m, "method": "C"}
    result = only(raw_circuit(load={"ib_a": 20}, cable=cable))

    assert result.r1r2_20c_ohm == pytest.approx(0.6)
    assert 2 * line_ohm * 1.2 * 20 == pytest.approx(10.94, abs=0.005)
    # Table 4D5 rounds 17.78 up to 18 mV/A/m.
    assert result.volt_drop_v == pytest.approx(10.94, rel=0.015)


@pytest.mark.parametrize(("appliances", "fits"), [(2, True), (3, False)])
def test_leakage_of_appliances_on_one_rcd(appliances: int, fits: bool) -> None:  # noqa: FBT001 - a column
    """Instrument maker's note of 2018: up to 3.5 mA each, 30 % of 30 mA is 9 mA."""
    kit = [{"id": f"kit-{n}", "kind": "kit"} for n in range(appliances)]
    plan = planned(job_of([raw_circuit(appliances=kit)]), leaking(3.5e-3))
    limit_a = EDITION.number("rcd.leakage_fraction") * 0.03

    assert limit_a == pytest.approx(9e-3)
    assert (plan.circuits[0].leakage_a <= limit_a) is fits
