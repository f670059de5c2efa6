"""What a number of a network may be, by the unit that its field's name ends in.

Within these sizes no sum of the solver leaves the range of numbers; no home comes near
their ends.
"""

from __future__ import annotations

import math

from boardwright.core.errors import FieldError

_SIZES = {
    "ohm": (1e-9, 1e15, "ohm"),
    "h": (1e-15, 1e3, "H"),
    "f": (1e-18, 1e3, "F"),
    "v": (1e-9, 1e9, "V"),
    "a": (1e-9, 1e9, "A"),
    "m": (1e-6, 1e6, "m"),
    "s": (1e-12, 1e3, "s"),
}


def need_size(path: str, value: float, *, nought: str = "0 or ") -> None:
    """Demand 0, or a number of either sign whose size the solver can work with."""
    unit = path.removesuffix("_per_m").rpartition("_")[2]
    least, most, word = _SIZES[unit]
    if not (value == 0 or least <= abs(value) <= most):
        raise FieldError(path, value, f"{nought}a size from {least:g} to {most:g} {word}")


def need_over_0(path: str, value: float) -> None:
    """Demand a number over 0 of a size the solver can work with."""
    if not (value > 0 and math.isfinite(value)):
        raise FieldError(path, value, "a number over 0")
    need_size(path, value, nought="")
