"""Take out of waves what alternates from step to step.

A coil in series with a varistor that has closed sees its voltage change sign at each step of
the trapezoidal rule for ever after: it moves nothing else and means nothing, but it would
stand for the peak of a node that sees little.
"""

from __future__ import annotations

import numpy as np

from boardwright.surge.waveforms import Array

# Keeps a cubic, and takes all of what alternates.
_WEIGHTS = np.array([-1.0, 4.0, 10.0, 4.0, -1.0]) / 16
_REACH = len(_WEIGHTS) // 2
# So many changes of sign on end, of bends alike within this factor.
_SAMPLES = 9
_ALIKE = 2.0


def calm(values: Array) -> Array:
    """Return waves, a column each, calmed where their highest value alternates."""
    if len(values) <= _SAMPLES:
        return values
    tops = np.abs(values).argmax(axis=0)
    calmed = values
    for column in np.flatnonzero(_alternates(values, tops)):
        if calmed is values:
            calmed = values.copy()
        inner = np.convolve(values[:, column], _WEIGHTS, "valid")
        calmed[:, column] = np.pad(inner, _REACH, "edge")
    return calmed


def _alternates(values: Array, tops: Array) -> Array:
    """Say of each column whether the samples around its highest one alternate."""
    first = np.clip(tops - _SAMPLES // 2, 0, len(values) - _SAMPLES)
    around = values[first + np.arange(_SAMPLES)[:, None], np.arange(len(tops))]
    bends = np.diff(around, 2, axis=0)
    sizes = np.abs(bends)
    turns = (bends[1:] * bends[:-1] < 0).all(axis=0)
    return np.asarray(turns & (sizes.max(axis=0) < _ALIKE * sizes.min(axis=0)))
