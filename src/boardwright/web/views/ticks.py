"""How far the work on site is: ticks of steps, as events, whoever made them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from boardwright.store.events import Event, standing
from boardwright.web.devices.stamps import NOBODY
from boardwright.wiring.results import Phase, Step

KIND = "tick"
DONE, OPEN, NOT_RIGHT = "done", "open", "not right"
STATES = (DONE, OPEN, NOT_RIGHT)


@dataclass(frozen=True, slots=True)
class Tick:
    """What one device said of a step; ``note`` is what was not right."""

    state: str
    note: str
    who: str
    at: str


@dataclass(frozen=True, slots=True)
class Ticks:
    """What stands of every step, by its key; several where devices did not know of each other."""

    by_key: Mapping[str, tuple[Tick, ...]] = field(default_factory=dict)
    seen: int = 0
    done: int = 0
    proved_dead: str = ""

    def state(self, key: str) -> str:
        """Return what is so of a step: not right before done, done before open."""
        states = {tick.state for tick in self.by_key.get(key, ())}
        return next((state for state in (NOT_RIGHT, DONE) if state in states), "")

    def of(self, key: str) -> tuple[Tick, ...]:
        """Return what each device said of a step; a tick taken back says nothing."""
        return tuple(tick for tick in self.by_key.get(key, ()) if tick.state != OPEN)


def ticks_of(events: Sequence[Event], steps: Sequence[Step]) -> Ticks:
    """Return how far the work is, of the steps as they are planned now."""
    by_key = {
        subject.removeprefix("steps."): tuple(_tick(event) for event in stand)
        for (kind, subject), stand in standing(events).items()
        if kind == KIND
    }
    found = Ticks(by_key)
    keys = [key_of(step) for step in steps]
    proving = (key_of(step) for step in steps if step.phase is Phase.ISOLATE)
    proved = [tick for key in proving if "prove-dead" in key for tick in found.of(key)]
    return Ticks(
        by_key,
        seen=max((event.number for event in events), default=0),
        done=sum(found.state(key) == DONE for key in keys),
        proved_dead=proved[-1].at if proved and proved[-1].state == DONE else "",
    )


def key_of(step: Step) -> str:
    """Return what names a step when others come before it: its words, not its number."""
    return re.sub(r"[^a-z0-9]+", "-", f"{step.phase.value} {step.title}".casefold()).strip("-")


def _tick(event: Event) -> Tick:
    value = event.value if isinstance(event.value, dict) else {}
    state = str(value.get("state", OPEN))
    who = "" if event.who == NOBODY else event.who
    note = str(value.get("note", ""))
    return Tick(state if state in STATES else OPEN, note, who, f"{event.at.astimezone():%H:%M}")


__all__ = ["DONE", "KIND", "NOT_RIGHT", "OPEN", "STATES", "Tick", "Ticks", "key_of", "ticks_of"]
