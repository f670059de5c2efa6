"""The symbols of the single-line diagram, read from the one file that holds them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from boardwright.catalogue.devices import Kind
from boardwright.job.circuit import Circuit

_SYMBOL = re.compile(
    r'<symbol id="(?P<name>[\w-]+)"(?P<rest>[^>]*)><title>(?P<title>[^<]+)</title>(?P<body>.*?)'
    r"</symbol>",
    re.DOTALL,
)

_OF_KIND = {
    Kind.MAIN_SWITCH: "isolator",
    Kind.ISOLATOR: "isolator",
    Kind.MCB: "mcb",
    Kind.RCBO: "rcbo",
    Kind.RCCB: "rcd",
    Kind.AFDD: "afdd",
    Kind.SPD: "spd",
    Kind.FUSE_SWITCH: "switch-fuse",
}

_AS_FOUND = {
    "main switch": "isolator",
    "MCB": "mcb",
    "RCBO": "rcbo",
    "RCCB": "rcd",
    "SPD": "spd",
    "fuse": "fuse",
}

_OF_LOAD = {
    "lighting": "light",
    "cooker": "cooker",
    "shower": "shower",
    "immersion heater": "heater",
    "storage heater": "heater",
    "room heating": "heater",
    "smoke alarms": "alarm",
    "boiler": "boiler",
    "EV point": "ev",
    "heat pump": "heat-pump",
    "PV": "pv",
    "battery": "battery",
    "sub-board": "sub-board",
}


@dataclass(frozen=True, slots=True)
class Symbol:
    """One symbol: what it is called, its marks, whether it is never turned."""

    name: str
    title: str
    body: str
    upright: bool


@cache
def symbols() -> Mapping[str, Symbol]:
    """Return every symbol by its name, in the order of the file."""
    text = files(__package__).joinpath("symbols.svg").read_text(encoding="utf-8")
    return MappingProxyType(
        {
            m["name"]: Symbol(m["name"], m["title"], m["body"], 'class="upright"' in m["rest"])
            for m in _SYMBOL.finditer(text)
        }
    )


def of_kind(kind: Kind) -> str:
    """Return the symbol of a device."""
    return _OF_KIND[kind]


def of_found(kind: str) -> str:
    """Return the symbol of a device as the survey names it; what it cannot name is a box."""
    return _AS_FOUND.get(kind, "appliance")


def of_load(circuit: Circuit) -> str:
    """Return the symbol of what a circuit serves."""
    if circuit.serves == "sockets":
        return f"socket-{circuit.topology}"
    return _OF_LOAD.get(circuit.serves, "appliance")
