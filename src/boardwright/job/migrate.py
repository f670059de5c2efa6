"""Job files of older versions, brought up to date one step at a time."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from boardwright.core.errors import FieldError
from boardwright.job.job import SCHEMA_VERSION
from boardwright.job.tree import Plain
from boardwright.job.words import NOTHING

Data = dict[str, Plain]
Step = Callable[[Data], Data]

STEPS: Mapping[int, Step] = {}
"""A step per older version: ``{1: from_1_to_2}``. Version 1 is the first there is."""


def migrate(data: Data, steps: Mapping[int, Step] = STEPS, to: int = SCHEMA_VERSION) -> Data:
    """Return the data as this version of the program writes it.

    Raises
    ------
    FieldError
        The version is missing, no number, newer than this program, or too old for it.
    """
    version = _version(data, to)
    while version < to:
        if version not in steps:
            raise _wrong(version, to, "Nothing here can read a version that old.")
        data = steps[version](data)
        version += 1
    return {**data, "schema_version": to}


def _version(data: Data, to: int) -> int:
    version = data.get("schema_version")
    if version is None:
        raise _wrong(NOTHING, to, f"Add the line 'schema_version: {to}'.")
    if isinstance(version, bool) or not isinstance(version, int):
        raise _wrong(version, to)
    if version > to:
        raise _wrong(version, to, "The file was written by a newer program: update this one.")
    return version


def _wrong(found: object, to: int, remedy: str = "") -> FieldError:
    expected = f"{to}, the version of the job file" if to == 1 else f"a version from 1 to {to}"
    return FieldError("schema_version", found, expected, remedy=remedy)
