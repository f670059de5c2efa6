"""Where an SPD is to stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class SpdSite:
    """The place an SPD is chosen for. None where a value is not known, or not a limit.

    ``family`` is the enclosure's, empty where the board as found is of no known family;
    ``modules_free`` None where the enclosure is chosen after the SPD; ``wanted`` the
    catalogue id that the job asks for, or empty.
    """

    system: Literal["TN-S", "TN-C-S", "TT"]
    phases: Literal[1, 3]
    u0_v: float
    cutout_fuse_a: float | None
    ipf_a: float | None
    family: str
    ahead_of_rcd: bool
    rcd_delayed: bool
    modules_free: int | None
    wanted: str
