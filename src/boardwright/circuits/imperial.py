"""Old cable sizes: strands by their diameter in inches, as 7/.029 on a drum of the 1960s."""

from __future__ import annotations

import re
from math import pi

_STRANDS = re.compile(r"(\d{1,3})/(?:0?\.)(\d{2,4})")
_MM_AN_INCH = 25.4


def strands_mm2(written: str) -> float | None:
    """Return the copper of a stranded conductor, None where no old size is written. [mm²]

    Examples
    --------
    >>> round(strands_mm2("7/.029") or 0, 3)
    2.983
    """
    read = _STRANDS.fullmatch(written.strip())
    if read is None:
        return None
    count, diameter = int(read[1]), float(f"0.{read[2]}")
    return count * pi / 4 * (_MM_AN_INCH * diameter) ** 2
