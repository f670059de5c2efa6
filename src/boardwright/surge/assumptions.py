"""Read what a surge study assumes, each figure with its range and its pedigree."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from importlib import resources
from typing import Any

from boardwright.surge.curves import LogPolynomial
from boardwright.surge.home import SurgeEarthing


@dataclass(frozen=True, slots=True)
class AssumedInput:
    """An input nobody measures: its 5 % point, its typical value, its 95 % point."""

    name: str
    words: str
    low: float
    typical: float
    high: float
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class FixedParts:
    """Element values that are assumed and not varied: they hardly move a peak."""

    breaker_h: float
    breaker_ohm: float
    contact_ohm: float
    shortest_lead_m: float
    supply_z0_ohm: float
    supply_velocity_m_per_s: float
    cable_z0_ohm: float
    cable_velocity_m_per_s: float
    cable_ohm_per_m: float
    tails_spacing_m: float
    varistor_f: float
    arc_v: float
    arc_ohm: float
    gap_f: float
    appliance_y_f: float
    other_load_ohm: float
    other_load_f: float


@dataclass(frozen=True, slots=True)
class NeutralBond:
    """What lies between neutral and earth at the origin."""

    r_ohm: float
    l_h: float


@dataclass(frozen=True, slots=True)
class Mains:
    """How a surge test couples the mains in; ``u0_v`` is its r.m.s. voltage to earth. [V]"""

    u0_v: float
    decoupling_h: float
    decoupling_ohm: float
    coupling_f: float


@dataclass(frozen=True, slots=True)
class ChangeCost:
    """A change in words, with what else it brings and how long it takes."""

    words: str
    note: str
    work_h: float


@dataclass(frozen=True, slots=True)
class Costs:
    """What changes cost beside their parts; ``rate_gbp`` weighs an hour against parts."""

    rate_gbp: float
    second_lead_m: float
    changes: Mapping[str, ChangeCost]


@dataclass(frozen=True, slots=True)
class Assumptions:
    """Everything a study assumes; the caller loads it once and passes it down.

    ``surges`` are the inputs that are not the home's: size and front of what arrives.
    """

    inputs: Mapping[str, AssumedInput]
    surges: Mapping[str, AssumedInput]
    mains: Mains
    costs: Costs
    fixed: FixedParts
    bonds: Mapping[SurgeEarthing, NeutralBond]
    shape: LogPolynomial
    shape_uc_v: float

    def typical(self, name: str) -> float:
        """Return the value of an input in this set."""
        return self.inputs[name].typical

    def having(self, name: str, value: float) -> Assumptions:
        """Return the same assumptions with one input moved."""
        moved = replace(self.inputs[name], typical=value)
        return replace(self, inputs={**self.inputs, name: moved})


def load_assumptions() -> Assumptions:
    """Return the assumptions that come with the program."""
    data = _read("assumed.toml")
    shape = data["varistor_shape"]
    return Assumptions(
        inputs={name: AssumedInput(name, **row) for name, row in data["input"].items()},
        surges={name: AssumedInput(name, **row) for name, row in data["surge"].items()},
        mains=Mains(**data["mains"]),
        costs=_costs(_read("changes.toml")),
        fixed=FixedParts(**data["fixed"]),
        bonds={
            SurgeEarthing(name): NeutralBond(row["r_ohm"], row["l_h"])
            for name, row in data["neutral_bond"].items()
        },
        shape=LogPolynomial(*(shape[key] for key in ("b1", "b2", "b3", "b4"))),
        shape_uc_v=shape["uc_v"],
    )


def _costs(data: dict[str, Any]) -> Costs:
    return Costs(
        rate_gbp=data["labour"]["rate_gbp"],
        second_lead_m=data["second"]["lead_m"],
        changes={name: ChangeCost(**row) for name, row in data["change"].items()},
    )


def _read(name: str) -> dict[str, Any]:
    text = resources.files("boardwright.surge").joinpath(name).read_text("utf-8")
    return tomllib.loads(text)
