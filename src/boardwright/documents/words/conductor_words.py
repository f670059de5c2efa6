"""What a conductor is called on paper: its ends, its size, its torque, where it comes from."""

from __future__ import annotations

import re

from boardwright.documents.words.figures import NO_BREAK, fixed, number
from boardwright.wiring.results import Conductor, End, Origin

_CORE = re.compile(r", (?:earth|neutral|line)(?: L[123])? core$")

FUNCTIONS = {"L": "line", "N": "neutral", "PE": "earth", "PEN": "combined"}


def function_words(conductor: Conductor) -> str:
    """Return line, neutral or earth; a phase keeps its number."""
    return FUNCTIONS.get(conductor.function, f"line{NO_BREAK}{conductor.function}")


def size_words(conductor: Conductor) -> str:
    """Return the size in mm² as it is made: 2.5, 16; empty for a busbar, which is no wire."""
    return "" if conductor.origin is Origin.BUSBAR else number(conductor.csa_mm2)


def cut_words(conductor: Conductor) -> str:
    """Return the length to cut in whole mm; empty where nothing is cut."""
    return fixed(conductor.length_mm, 0) if conductor.origin is Origin.NEW else ""


def torque_words(conductor: Conductor) -> str:
    """Return the torques of the two ends in N·m, one figure where they are the same."""
    return _both([_torque(conductor.begin), _torque(conductor.end)])


def strip_words(conductor: Conductor) -> str:
    """Return how much to strip at the two ends in mm, one figure where it is the same."""
    return _both([_strip(conductor.begin), _strip(conductor.end)])


def in_order_of_work(conductors: tuple[Conductor, ...]) -> tuple[Conductor, ...]:
    """Return the conductors by the step that joins them; those of no step last."""
    return tuple(sorted(conductors, key=lambda c: (c.step == 0, c.step)))


def origin_words(conductor: Conductor) -> str:
    """Return where a conductor that is not cut comes from; empty for a new one."""
    return "" if conductor.origin is Origin.NEW else conductor.origin.value


def end_words(end: End) -> str:
    """Return an end in few words: Earth bar 3, Shower N-out, top, Cooker cable.

    Which core of a cable it is, the function beside it says.
    """
    return _CORE.sub("", end.label).replace(", terminal ", " ")


def _torque(end: End) -> str:
    return "" if end.torque_nm is None else fixed(end.torque_nm, 1)


def _strip(end: End) -> str:
    return "" if end.strip_mm is None else number(end.strip_mm)


def _both(ends: list[str]) -> str:
    # A far end outside the board has no figure: the one that is known stands alone.
    return " / ".join(dict.fromkeys(end for end in ends if end))
