"""How the kernels are compiled: one decorator, and where its results are kept."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from importlib import resources
from typing import Any, TypeVar, cast

import numba
from numba.core import config
from platformdirs import user_cache_path

Function = TypeVar("Function", bound=Callable[..., Any])


def _edition() -> str:
    """Return a name that changes when any kernel does.

    Each compiled function holds copies of those it calls, but is thought fresh while
    its own file is: the code of another edition of the program must not be met at all.
    """
    sources = [
        item
        for item in resources.files("boardwright.surge").iterdir()
        if item.name.startswith(("abreast", "jit", "kernel", "legs", "runs", "tables"))
        and item.name.endswith(".py")
    ]
    text = b"".join(item.read_bytes() for item in sorted(sources, key=lambda item: item.name))
    return hashlib.sha256(text).hexdigest()[:16]


# Compiling takes some seconds, so the code is kept where the user keeps such things,
# not beside a package that may be read-only. A folder the user named for it stays.
if not config.CACHE_DIR:  # type: ignore[attr-defined]  # made at run time
    config.CACHE_DIR = str(user_cache_path("boardwright") / "kernels" / _edition())  # type: ignore[attr-defined]

# Groups of eight sums, spelt out in the kernels, become single instructions.
config.SLP_VECTORIZE = 1  # type: ignore[attr-defined]


def compiled(function: Function) -> Function:
    """Compile a function to machine code, once for this machine."""
    # Sums may be taken in another order, or they would not run eight abreast; nothing
    # else of the arithmetic is loosened. Without the interpreter's lock, several
    # surges run at once.
    made: Any = numba.njit(
        cache=True, nogil=True, error_model="numpy", fastmath={"reassoc", "contract"}
    )(function)
    return cast(Function, made)


def inlined(function: Function) -> Function:
    """Compile a function into each place that calls it.

    A call hands each array over as nine figures: for a loop of five turns that is most
    of the work.
    """
    made: Any = numba.njit(
        inline="always", nogil=True, error_model="numpy", fastmath={"reassoc", "contract"}
    )(function)
    return cast(Function, made)
