"""A circuit that could not be added: what was entered stays, with what is wrong of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from boardwright.core.errors import BoardwrightError, FieldError, InputErrors

_TITLES = {
    "name": "Name",
    "serves": "Serves",
    "line_mm2": "Line",
    "cpc_mm2": "CPC",
    "length_m": "Length",
}
"""The entries of the form, by the last word of their field's path."""


@dataclass(frozen=True, slots=True)
class Adding:
    """What was entered, and a sentence for each thing that is wrong of it."""

    entered: Mapping[str, str]
    faults: tuple[str, ...]


def refused(entered: Mapping[str, str], error: BoardwrightError) -> Adding:
    """Return the form as it was sent, with the reasons in the form's own words."""
    errors = error.errors if isinstance(error, InputErrors) else (error,)
    return Adding(entered, tuple(_said(each) for each in errors))


def _said(error: BoardwrightError) -> str:
    key = error.path.rpartition(".")[2] if isinstance(error, FieldError) else ""
    if not isinstance(error, FieldError) or key not in _TITLES:
        return str(error)
    if not error.found:
        return f"{_TITLES[key]}: enter {error.expected}."
    return f"{_TITLES[key]}: {error.found} is not {error.expected}. {error.remedy}".strip()


__all__ = ["Adding", "refused"]
