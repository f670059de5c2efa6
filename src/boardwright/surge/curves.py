"""Voltage against current of a varistor, as data with one method.

Below one microampere every curve is a straight line through zero: the fits are
not valid there, and a solver needs a finite slope at no current.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import ClassVar, Literal

import numpy as np
from pydantic import ConfigDict

from boardwright.core.errors import FieldError
from boardwright.surge.sizes import need_size
from boardwright.surge.waveforms import STRICT, Array

LINEAR_BELOW_A = 1e-6
CURVE_TOP_A = 1e6
_LN10 = math.log(10)
_DECADES = 12


@dataclass(frozen=True, slots=True)
class LogPolynomial:
    """A varistor curve: log U = b1 + b2·x + b3·exp(-x) + b4·exp(x), x = log i.

    The form is a published library's; the two factors let one measured shape
    stand for parts of another voltage and another disc area.

    Parameters
    ----------
    b1, b2, b3, b4
        Coefficients, with logarithms to base 10, U in volt and i in ampere.
    voltage_factor
        Multiplies the voltage: the rated voltage, or a tolerance.
    area_factor
        Divides the current: a larger disc carries more at the same voltage.
    """

    b1: float
    b2: float
    b3: float
    b4: float
    voltage_factor: float = 1.0
    area_factor: float = 1.0
    kind: Literal["log polynomial"] = "log polynomial"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        for name, factor in (
            ("voltage_factor", self.voltage_factor),
            ("area_factor", self.area_factor),
        ):
            if not 0 < factor < math.inf:
                raise FieldError(f"curve.{name}", factor, "a number over 0")
        low = math.log(LINEAR_BELOW_A)
        span = math.log(CURVE_TOP_A) - low
        steps = 20 * _DECADES
        for step in range(steps + 1):
            ln_a = low + span * step / steps
            try:
                u_v, slope_v = self.at_ln(ln_a)
            except OverflowError:
                u_v, slope_v = math.inf, math.inf
            need_size(f"curve at {math.exp(ln_a):.3g} A, u_v", u_v, nought="")
            if slope_v <= 0:
                raise FieldError(
                    "curve",
                    f"a voltage that falls at {math.exp(ln_a):.3g} A",
                    "a voltage that rises with the current from 1 µA to 1 MA",
                    remedy="Fit the coefficients again; a positive b3 often does this.",
                )

    def at_ln(self, ln_a: float) -> tuple[float, float]:
        """Return the voltage and its slope against ln i, at ln i. [V]"""
        x = (ln_a - math.log(self.area_factor)) / _LN10
        fall, rise = self.b3 * math.exp(-x), self.b4 * math.exp(x)
        u_v = self.voltage_factor * math.exp(_LN10 * (self.b1 + self.b2 * x + fall + rise))
        return u_v, u_v * (self.b2 - fall + rise)

    def each_at_ln(self, ln_a: Array) -> tuple[Array, Array]:
        """Return what ``at_ln`` gives, for many currents at once. [V]"""
        x = (ln_a - math.log(self.area_factor)) / _LN10
        fall, rise = self.b3 * np.exp(-x), self.b4 * np.exp(x)
        u_v = self.voltage_factor * np.exp(_LN10 * (self.b1 + self.b2 * x + fall + rise))
        return u_v, u_v * (self.b2 - fall + rise)

    def times(self, factor: float) -> LogPolynomial:
        """Return the same curve with every voltage multiplied, for a tolerance."""
        return replace(self, voltage_factor=self.voltage_factor * factor)


@dataclass(frozen=True, slots=True)
class LogPoints:
    """A varistor curve through points of a data sheet, straight between logarithms.

    Parameters
    ----------
    points
        Current and voltage of each point, rising in both. [A, V]
    voltage_factor
        Multiplies the voltage, for a tolerance.
    """

    points: tuple[tuple[float, float], ...]
    voltage_factor: float = 1.0
    kind: Literal["points"] = "points"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        if len(self.points) < 2:  # noqa: PLR2004  two points make a line
            raise FieldError(
                "curve.points",
                self.points,
                "at least two points of current and voltage",
                remedy="Take them from the data sheet, or give Up and In instead.",
            )
        if not 0 < self.voltage_factor < math.inf:
            raise FieldError("curve.voltage_factor", self.voltage_factor, "a number over 0")
        before = (0.0, 0.0)
        for point in self.points:
            need_size("curve.points.i_a", point[0])
            need_size("curve.points.u_v", point[1])
            if not (before[0] < point[0] < math.inf and before[1] < point[1] < math.inf):
                raise FieldError(
                    "curve.points", point, f"more current and more voltage than {before}"
                )
            before = point

    def at_ln(self, ln_a: float) -> tuple[float, float]:
        """Return the voltage and its slope against ln i, at ln i. [V]"""
        # Beyond its ends the curve goes on with the slope of the end piece.
        logs = _logs(self.points)
        piece = 1
        while piece < len(logs) - 1 and ln_a > logs[piece][0]:
            piece += 1
        (x0, y0), (x1, y1) = logs[piece - 1], logs[piece]
        slope = (y1 - y0) / (x1 - x0)
        u_v = self.voltage_factor * math.exp(y0 + slope * (ln_a - x0))
        return u_v, u_v * slope

    def each_at_ln(self, ln_a: Array) -> tuple[Array, Array]:
        """Return what ``at_ln`` gives, for many currents at once. [V]"""
        x, y = np.array(_logs(self.points)).T
        piece = np.clip(np.searchsorted(x, ln_a), 1, len(x) - 1)
        slope = (np.diff(y) / np.diff(x))[piece - 1]
        u_v = self.voltage_factor * np.exp(y[piece - 1] + slope * (ln_a - x[piece - 1]))
        return u_v, u_v * slope


@lru_cache(maxsize=64)
def _logs(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    return tuple((math.log(i_a), math.log(u_v)) for i_a, u_v in points)


VaristorCurve = LogPolynomial | LogPoints


def voltage_v(curve: VaristorCurve, current_a: float) -> float:
    """Return the voltage across a varistor that carries a current. [V]"""
    size_a = abs(current_a)
    if size_a <= LINEAR_BELOW_A:
        return curve.at_ln(math.log(LINEAR_BELOW_A))[0] * current_a / LINEAR_BELOW_A
    return math.copysign(curve.at_ln(math.log(size_a))[0], current_a)


def scaled_to_rating(
    shape: LogPolynomial, *, shape_uc_v: float, uc_v: float, up_v: float, in_8x20_a: float
) -> LogPolynomial:
    """Return a measured shape stretched to a device's Uc, and to Up at In.

    The thickness of a varistor sets its voltage, so the voltage follows Uc; its
    area sets what it carries, so the area is found from the residual voltage Up
    at In. Both ends of the curve are then the device's own: stretching the
    voltage alone would put the knee of a device with a high Up far above Uc.
    """
    thick = LogPolynomial(shape.b1, shape.b2, shape.b3, shape.b4, uc_v / shape_uc_v)
    low, high = math.log(LINEAR_BELOW_A), math.log(CURVE_TOP_A)
    floor_v, top_v = thick.at_ln(math.log(1e-3))[0], thick.at_ln(high)[0]
    if not floor_v < up_v < top_v:
        raise FieldError(
            "spd.up_v",
            up_v,
            f"more than {floor_v:.0f} V, where a varistor for Uc = {uc_v:g} V begins to conduct",
            remedy="Check Up and Uc on the data sheet.",
        )
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if thick.at_ln(middle)[0] < up_v else (low, middle)
    return LogPolynomial(
        shape.b1, shape.b2, shape.b3, shape.b4, uc_v / shape_uc_v, in_8x20_a / math.exp(low)
    )
