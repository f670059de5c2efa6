"""How the kernels are compiled: one decorator, and where its results are kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import numba
from numba.core import config
from platformdirs import user_cache_path

Function = TypeVar("Function", bound=Callable[..., Any])

# Compiling takes some seconds, so the code is kept where the user keeps such things,
# not beside a package that may be read-only. A folder the user named for it stays.
if not config.CACHE_DIR:
    config.CACHE_DIR = str(user_cache_path("boardwright") / "kernels")


def compiled(function: Function) -> Function:
    """Compile a function to machine code, once for this machine."""
    # Sums may be taken in another order, or they would not run eight abreast; nothing
    # else of the arithmetic is loosened. Without the interpreter's lock, several
    # surges run at once.
    made: Function = numba.njit(
        cache=True, nogil=True, error_model="numpy", fastmath={"reassoc", "contract"}
    )(function)
    return made
