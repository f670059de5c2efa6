"""Measure an impulse as the standards construct it: virtual front, half value, integrals."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from boardwright.surge.waveforms import Array


@dataclass(frozen=True, slots=True)
class ImpulseTimes:
    """The virtual front T1 and the time to half value T2 of an impulse. [s]"""

    t1_s: float
    t2_s: float


def voltage_times(t_s: Array, u_v: Array) -> ImpulseTimes:
    """Return T1 = (t90 - t30) / 0.6 and T2 from the virtual origin (IEC 60060-1)."""
    return _times(t_s, u_v, foot=0.3)


def current_times(t_s: Array, i_a: Array) -> ImpulseTimes:
    """Return T1 = 1.25 (t90 - t10) and T2 from the virtual origin (IEC 60060-1)."""
    return _times(t_s, i_a, foot=0.1)


def joule_integral_a2s(t_s: Array, i_a: Array) -> float:
    """Return ∫i²dt, the energy in each ohm of a conductor. [A²s]"""
    return float(np.trapezoid(i_a**2, t_s))


def charge_as(t_s: Array, i_a: Array) -> float:
    """Return ∫i dt. [A s]"""
    return float(np.trapezoid(i_a, t_s))


def undershoot_ratio(wave: Array) -> float:
    """Return the largest swing below zero as a part of the crest."""
    return max(0.0, float(-wave.min() / wave.max()))


def _times(t_s: Array, wave: Array, foot: float) -> ImpulseTimes:
    crest = int(wave.argmax())
    unit = wave / wave[crest]
    # The front is read at its first crossings, the tail at its last before
    # any undershoot swings back.
    rise, fall = unit[: crest + 1], unit[crest:]
    t_foot, t_90 = np.interp([foot, 0.9], rise, t_s[: crest + 1])
    below = crest + int(np.argmax(fall <= 0.5))  # noqa: PLR2004  half value is the definition
    t_50 = np.interp(0.5, unit[below - 1 : below + 1][::-1], t_s[below - 1 : below + 1][::-1])
    front_s = float((t_90 - t_foot) / (0.9 - foot))
    return ImpulseTimes(t1_s=front_s, t2_s=float(t_50 - (t_foot - foot * front_s)))
