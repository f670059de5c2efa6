"""The pack's sheet on the SPD's back-up and wear, and the record that an owner signs to decline."""

from __future__ import annotations

from dataclasses import astuple
from typing import Any

from boardwright.design import Design
from boardwright.documents.duty.decline import state
from boardwright.documents.duty.words import duty_words, is_declined
from boardwright.spd.need import mandatory, unasked

Content = dict[str, Any]


def duty(design: Design) -> Content | None:
    """Return what the sheet says, or None where no SPD suits and so none wears."""
    words = duty_words(design)
    if words is None:
        return None
    return {
        "ahead": [list(astuple(row)) for row in words.ahead],
        "bound_note": words.bound_note,
        "failure": words.failure,
        "often": [list(row) for row in words.often],
        "life": words.life,
        "not_counted": words.not_counted,
        "decline": state(design) if design.job.surge_environment.declined_by else "",
        "to_sign": _to_sign(design),
    }


def _to_sign(design: Design) -> bool:
    """Tell whether the owner's signature is wanted: declined, asked for, and no duty against it."""
    environment = design.job.surge_environment
    return is_declined(design) and not (mandatory(environment) or unasked(environment))
