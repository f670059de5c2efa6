"""One screen of the survey's walk."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stop:
    """One screen of the walk: its key in the address, its section, its title."""

    key: str
    section: str
    title: str
    circuit_id: str = ""

    @property
    def listed(self) -> str:
        """The screen that stands for it in the list of all: of a circuit the first."""
        return f"circuits.{self.circuit_id}" if self.circuit_id else self.key


__all__ = ["Stop"]
