"""How a value that cannot be used could be mended, where its form shows what was meant."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from boardwright.job.words import Schema, closest, wanted

_UNITS: Mapping[str, Mapping[str, float]] = {
    "_mohm": {"MΩ": 1, "Mohm": 1, "megohm": 1, "GΩ": 1000},
    "_ohm": {"Ω": 1, "ohm": 1, "ohms": 1, "mΩ": 0.001, "kΩ": 1000},
    "_mm2": {"mm²": 1, "mm2": 1, "sqmm": 1},
    "_mm": {"mm": 1, "cm": 10, "m": 1000},
    "_a": {"A": 1, "mA": 0.001, "kA": 1000},
    "_v": {"V": 1, "kV": 1000},
    "_w": {"W": 1, "kW": 1000},
    "_m": {"m": 1, "cm": 0.01, "mm": 0.001, "km": 1000},
    "_c": {"°C": 1, "C": 1},
}
"""What each unit, as people write it, is in the unit of the key."""


def remedy(value: object, key: str, schema: Schema) -> str:
    """Return the sentence that mends a value, or nothing."""
    choices = [str(choice) for choice in schema.get("enum", ())]
    if isinstance(value, bool):
        return f"Write {'yes' if value else 'no'}." if set(choices) == {"yes", "no"} else ""
    if isinstance(value, int | float):
        text = wanted(schema).startswith(("a text", "an id"))
        return f'Put it in quotes: "{value}".' if text else ""
    if not isinstance(value, str):
        return ""
    if schema.get("type") in {"number", "integer"}:
        return _number(value.strip(), key)
    return _choice(value, choices)


def _choice(value: str, choices: Sequence[str]) -> str:
    if choices == ["1", "3"] and value in choices:
        return "Take its quotes away."
    close = closest(value, choices)
    return f"Did you mean {close!r}?" if close else ""


def _number(text: str, key: str) -> str:
    """Mend a decimal comma and a unit; a guess that could be wrong by 1000 is put as a question."""
    found = re.fullmatch(r"([-+]?\d+)(?:([.,])(\d+))?\s*(\D[\w²]*)?", text)
    if not found:
        return ""
    whole, mark, part, unit = found.groups()
    if mark == "," and len(part) == len("000"):
        return f"Write {whole}.{part} or {whole}{part}, whichever it is, without a comma."
    number = f"{whole}.{part}" if part else whole
    if not unit:
        return f"Write {number} with a point." if mark == "," else ""
    units = next((units for ending, units in _UNITS.items() if key.endswith(ending)), {})
    return f"Write {float(number) * units[unit]:.9g} without a unit." if unit in units else ""
