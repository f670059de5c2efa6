"""The compiled varistor: every operating point is found, alone and in company."""

import numpy as np
import pytest

from boardwright.surge.curves import LogPoints, LogPolynomial, VaristorCurve, voltage_v
from boardwright.surge.jit import compiled
from boardwright.surge.kernel_ports import Span, port_currents, varistor_a
from boardwright.surge.operating_point import varistor_current_a
from boardwright.surge.tables import AMPS, CURVE, ENOUGH, LN_STEP_ENOUGH, MATRIX, curve_table
from boardwright.surge.waveforms import Array
from tests.surge.rig import BENT, BLOCK_40, POWER_31

CURVES = [BLOCK_40, POWER_31, BENT]
DISC_14 = LogPolynomial(2.7340192, 0.0301397, -0.0005143, 0.0046033)


@compiled
def _solved(curve_u: Array, open_v: Array, ohm: Array, guess_a: Array) -> Array:
    found = np.zeros(len(open_v))
    for at in range(len(open_v)):
        found[at] = varistor_a(curve_u, 0, (open_v[at], ohm[at]), guess_a[at], LN_STEP_ENOUGH)
    return found


def _points(curve: VaristorCurve, count: int) -> tuple[Array, Array, Array]:
    """Draw currents of either sign, the voltages they need, and resistances."""
    draw = np.random.default_rng(7)
    amps = 10 ** draw.uniform(-12, 5, count) * draw.choice([-1.0, 1.0], count)
    ohm = 10 ** draw.uniform(-3, 9, count)
    above = np.abs(amps) > 1e-6
    volts = np.abs(amps) / 1e-6 * voltage_v(curve, 1e-6)
    volts[above] = curve.each_at_ln(np.log(np.abs(amps[above])))[0]
    return amps, ohm, np.sign(amps) * volts + ohm * amps


@pytest.mark.slow
@pytest.mark.parametrize("curve", [*CURVES, DISC_14], ids=["block", "power", "bent", "disc"])
def test_a_million_operating_points_and_none_fails(curve: VaristorCurve) -> None:
    amps, ohm, open_v = _points(curve, 1_000_000)
    # Half start from nowhere, half from a guess that may be decades off.
    draw = np.random.default_rng(8)
    guess_a = np.where(draw.random(len(amps)) < 0.5, 0.0, 10 ** draw.uniform(-12, 6, len(amps)))

    found = _solved(curve_table(curve)[None], open_v, ohm, guess_a)

    assert np.isfinite(found).all()
    # What is found must explain its voltage: to the table's and the rule's accuracy.
    size = np.abs(found)
    volts = np.where(size > 1e-6, curve.each_at_ln(np.log(np.maximum(size, 1e-6)))[0], 0.0)
    volts = np.where(size > 1e-6, volts, size / 1e-6 * voltage_v(curve, 1e-6))
    left = np.sign(found) * volts + ohm * found - open_v
    # The table rounds the bends of a curve given by points off, within 0.7 % of current.
    kinks = 2e-4 if isinstance(curve, LogPoints) and len(curve.points) > 2 else 1e-7
    assert np.abs(left / open_v).max() < kinks


@pytest.mark.parametrize("curve", CURVES)
def test_the_compiled_law_is_the_plain_one(curve: VaristorCurve) -> None:
    amps, ohm, open_v = _points(curve, 500)
    found = _solved(curve_table(curve)[None], open_v, ohm, np.zeros(500))
    plain = [
        varistor_current_a(curve, float(v), float(r)) for v, r in zip(open_v, ohm, strict=True)
    ]

    volts = np.abs(found - plain) * ohm
    assert (volts / np.abs(open_v)).max() < 2e-4
    assert LN_STEP_ENOUGH**2 < 1e-7
    assert np.isfinite(amps).all()


@compiled
def _settle(laws: Array, curve_u: Array, ohms: Array, opens: Array) -> None:
    port_currents(laws, curve_u, ohms, opens, Span(0, len(laws), 0, 0))


def test_several_ports_meet_their_curves_whatever_drives_them() -> None:
    """Thousands of random passive networks with two to four varistors each."""
    draw = np.random.default_rng(11)
    curve_u = np.array([curve_table(BLOCK_40), curve_table(POWER_31)])
    for _ in range(3000):
        count = int(draw.integers(2, 5))
        root = draw.normal(size=(count, count)) * 10 ** draw.uniform(-1, 1.5)
        ohms = root @ root.T + np.eye(count) * 10 ** draw.uniform(-1, 2)
        open_v = draw.normal(size=count) * 10 ** draw.uniform(0, 4)
        laws = np.zeros((count, MATRIX + count))
        laws[:, CURVE] = draw.integers(0, 2, count)
        laws[:, ENOUGH] = LN_STEP_ENOUGH
        laws[:, AMPS] = draw.normal(size=count) * 10 ** draw.uniform(-8, 4)

        _settle(laws, curve_u, -ohms[None], open_v[None])

        amps = laws[:, AMPS]
        assert np.isfinite(amps).all()
        across = [
            voltage_v((BLOCK_40, POWER_31)[int(law)], float(i))
            for law, i in zip(laws[:, CURVE], amps, strict=True)
        ]
        left = open_v - ohms @ amps - np.array(across)
        # Shared resistances far above a port's own make large voltages that cancel.
        summed_v = (np.abs(ohms) @ np.abs(amps)).max() + np.abs(open_v).max()
        assert np.abs(left).max() < 1e-6 * summed_v
