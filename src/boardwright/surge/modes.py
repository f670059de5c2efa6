"""A line of several conductors as independent travelling waves, its modes.

With L the partial inductances and C the capacitances of a metre, each eigenvalue λ
of L·C is one mode: a wave of speed 1/√λ. A mode that no capacitance carries (three
cores far from anything else, all at one voltage) is no wave: it is a bare inductance
from end to end.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from boardwright.core.errors import FieldError
from boardwright.surge.elements import Line
from boardwright.surge.waveforms import Array

# Speeds differ by less than the speed of light over a snail's: below this a mode is bare.
_BARE_RATIO = 1e-9

# Hundreds of kilometres; the waves on their way through more would fill memory.
_LONGEST_S = 1e-3


@dataclass(frozen=True, slots=True)
class Mode:
    """One wave of a line.

    ``share`` turns conductor voltages into the wave's voltage over √Z, and the wave's
    current times √Z into conductor currents: then a wave of size g carries g² watts.
    """

    share: Array
    delay_s: float


@dataclass(frozen=True, slots=True)
class BareMode:
    """A mode without capacitance: an inductance from end to end, shared as ``share`` says."""

    share: Array
    l_h: float


@lru_cache(maxsize=1024)
def modes_of(line: Line) -> tuple[tuple[Mode, ...], tuple[BareMode, ...]]:
    """Return the waves of a line, and the modes that are none."""
    l_h, c_f = np.array(line.l_h_per_m), maxwell_f(line)
    root = np.linalg.cholesky(l_h)
    squares, turn = np.linalg.eigh(root.T @ c_f @ root)
    # Row m of shares: conductor voltages to modal ones, for a mode of 1 H/m.
    shares = np.linalg.inv(root @ turn)
    waves, bare = [], []
    for square, share in zip(squares, shares, strict=True):
        if square <= _BARE_RATIO * squares[-1]:
            bare.append(BareMode(share, line.length_m))
        else:
            # The impedance of a mode of 1 H/m and λ F/m is 1/√λ.
            delay_s = line.length_m * float(square) ** 0.5
            if not delay_s <= _LONGEST_S:
                raise FieldError(
                    f"{line.name}.length_m",
                    line.length_m,
                    f"a cable that a wave runs through in {_LONGEST_S:g} s, not {delay_s:.3g} s",
                )
            waves.append(Mode(share * square**0.25, delay_s))
    return tuple(waves), tuple(bare)


def maxwell_f(line: Line) -> Array:
    """Return the capacitance table of a metre as charges over voltages. [F/m]"""
    table = np.array(line.c_f_per_m)
    symmetric = (table + table.T) / 2
    between = symmetric - np.diag(np.diag(symmetric))
    return np.asarray(np.diag(symmetric.sum(axis=1)) - between)


def shortest_delay_s(line: Line) -> float:
    """Return the delay of a line's quickest wave; 0 if it has none. [s]"""
    return min((mode.delay_s for mode in modes_of(line)[0]), default=0.0)
