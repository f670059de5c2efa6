"""A small home as text, and ways to spoil one line of it."""

import textwrap
from pathlib import Path

import pytest

from boardwright.core.errors import BoardwrightError
from boardwright.job.read import parse_job

HOME = textwrap.dedent("""\
    # A home for the tests.
    schema_version: 1
    id: home
    title: "Number 7"  # as on the gate
    designed_on: 2026-11-25
    premises: {kind: house}
    supply:
      system: TN-C-S
      ze_ohm: 0.21
    earthing:
      means_present: yes
    surge_environment:
      setting: urban
      lv_overhead_m: 400
    existing_board:
      ways: 6
      devices:
        - {way: 1, kind: MCB, in_a: 32, circuit: ring}
        - {way: 2, modules: 2, kind: RCCB}
    circuits:
      # the ring
      - id: ring
        name: Sockets
        serves: sockets
        way: 1
        topology: ring
        cable: {line_mm2: 2.5, cpc_mm2: 1.5, length_m: 55, method: 100}
        appliances:
          - {id: tv, kind: television, position_m: 20}

      # the shower
      - id: shower
        name: 'Shower'
        serves: shower
        way: 4
        cable:
          line_mm2: 10
          cpc_mm2: 4
          length_m: 14
    wishes: {board: compare}
    assumed: [circuits.ring.cable.length_m]
    """)


def spoilt(old: str, new: str) -> str:
    """Return the home with one piece of text changed."""
    assert HOME.count(old) == 1, old
    return HOME.replace(old, new)


def line(text: str, piece: str) -> int:
    """Return the line on which a piece of text stands for the first time."""
    return text[: text.index(piece)].count("\n") + 1


def said(text: str) -> str:
    """Return the sentences with which a text is refused."""
    with pytest.raises(BoardwrightError) as caught:
        parse_job(text, "home.yaml")
    return str(caught.value)


def saved(folder: Path, text: str) -> Path:
    """Return a file that holds the text."""
    path = folder / "home.yaml"
    path.write_bytes(text.encode())
    return path
