"""What a conductor is called on paper: its ends, its size, its torque, where it comes from."""

from __future__ import annotations

import re

from boardwright.documents.figures import NO_BREAK, TO, fixed, number
from boardwright.wiring.results import Conductor, End, Origin

_NUMBERED = re.compile(r"(?P<before>.*?)(?P<number>\d+)(?P<after>\D*)$")

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


def runs(conductors: tuple[Conductor, ...]) -> tuple[tuple[Conductor, ...], ...]:
    """Return the conductors with those maker's leads together that go on from way to way.

    Nine rows that differ by one number each are read less well than one that says from 4 to 12.
    """
    found: list[list[Conductor]] = []
    for conductor in conductors:
        if found and _goes_on(found[-1][-1], conductor):
            found[-1].append(conductor)
        else:
            found.append([conductor])
    return tuple(tuple(run) for run in found)


def run_label(labels: list[str]) -> str:
    """Return one label for a run: Way 4 N, Way 5 N, Way 6 N become Way 4–6 N."""
    numbered = [_NUMBERED.match(label) for label in labels]
    first, last = numbered[0], numbered[-1]
    if len(labels) == 1 or first is None or last is None:
        return labels[0]
    return f"{first['before']}{first['number']}{TO}{last['number']}{first['after']}"


def _goes_on(before: Conductor, after: Conductor) -> bool:
    if before.origin is not Origin.FLYING or after.origin is not Origin.FLYING:
        return False
    same = (before.step, before.function, before.csa_mm2) == (
        after.step,
        after.function,
        after.csa_mm2,
    )
    ends = (before.begin, after.begin), (before.end, after.end)
    return same and all(_next(one.label, other.label) for one, other in ends)


def _next(label: str, after: str) -> bool:
    """Tell whether two labels differ by their number alone, the second by one more."""
    one, other = _NUMBERED.match(label), _NUMBERED.match(after)
    return (
        one is not None
        and other is not None
        and (one["before"], one["after"]) == (other["before"], other["after"])
        and int(other["number"]) == int(one["number"]) + 1
    )


def _torque(end: End) -> str:
    return "" if end.torque_nm is None else fixed(end.torque_nm, 1)


def _strip(end: End) -> str:
    return "" if end.strip_mm is None else number(end.strip_mm)


def _both(ends: list[str]) -> str:
    # A far end outside the board has no figure: the one that is known stands alone.
    return " / ".join(dict.fromkeys(end for end in ends if end))
