"""Keeps a library's stray lines away from the machine-readable output."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def stdout_to_stderr() -> Iterator[None]:
    """Send what C code prints to standard output to standard error instead.

    HiGHS prints a debug line on some models, past Python's own streams; a program that reads
    our JSON would stumble over it. Where there is no such stream there is nothing to keep clean.
    """
    try:
        sys.stdout.flush()
        saved = os.dup(1)
    except (OSError, ValueError, AttributeError):
        yield
        return
    try:
        os.dup2(2, 1)
        yield
    finally:
        os.dup2(saved, 1)
        os.close(saved)
