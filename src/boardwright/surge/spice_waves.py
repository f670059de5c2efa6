"""The impulses as expressions of time in ngspice's dialect."""

from __future__ import annotations

import math

from boardwright.core.errors import FieldError
from boardwright.surge.waveforms import (
    CurrentWave,
    DampedSine8x20,
    Impulse1p2x50,
    Impulse8x20,
    RingWave,
    SteadyVoltage,
    StepVoltage,
    StrokeCurrent,
    VoltageWave,
)

_RISE_S = 1e-12


def wave_text(wave: CurrentWave | VoltageWave) -> str:
    """Return the expression of a wave."""
    match wave:
        case Impulse8x20():
            x = "(time/3.911e-6)"
            return f"{wave.peak_a / 27:.12g}*{x}*{x}*{x}*exp(3-{x})"
        case DampedSine8x20():
            crest_s = math.atan2(0.120023e6, 0.041628e6) / 0.120023e6
            crest = math.exp(-0.041628e6 * crest_s) * math.sin(0.120023e6 * crest_s)
            return f"{wave.peak_a / crest:.12g}*exp(-0.041628e6*time)*sin(0.120023e6*time)"
        case StrokeCurrent():
            rise = f"pwr(time/{wave.front_s:.12g},10)"
            size_a = wave.peak_a / wave.correction
            return f"{size_a:.12g}*{rise}/(1+{rise})*exp(-time/{wave.tail_s:.12g})"
        case Impulse1p2x50():
            return f"{wave.peak_v * 1.037:.12g}*(1-exp(-time/0.4074e-6))*exp(-time/68.22e-6)"
        case RingWave():
            swing = f"exp(-time/9.788e-6)*cos({2e5 * math.pi:.12g}*time)"
            return f"{wave.peak_v * 1.59:.12g}*(1-exp(-time/0.533e-6))*{swing}"
        case StepVoltage():
            return f"time<{_RISE_S:g} ? {wave.level_v / _RISE_S:.12g}*time : {wave.level_v:.12g}"
        case SteadyVoltage():
            raise FieldError(
                "wave.kind",
                "steady",
                "an impulse: the netlist starts from rest, with no mains before it",
            )
