"""A formula as the trade writes it, and one step of a working that uses it.

A formula is written once, with a place for each value: filled with signs it is what a book prints,
filled with figures it is the sum. The figure itself comes from the function that the design was
worked out with, called with the very values that are shown.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from string import Formatter

from boardwright.core.findings import Rule

SIGNS: Mapping[str, str] = {
    "added_ohm": "R",
    "adiabatic_mm2": "S",
    "at_c": "θ",
    "before_v": "u0",
    "bound_a": "Ip bound",
    "ca_factor": "Ca",
    "cf_factor": "Cf",
    "cg_factor": "Cg",
    "ci_factor": "Ci",
    "cmin": "Cmin",
    "connected_a": "Iconn",
    "count": "n at In",
    "cpc_ohm_per_m": "r2",
    "crest_a": "Ip",
    "crl_ratio": "CRL",
    "ct_factor": "Ct",
    "current_a": "I",
    "demand_a": "Idem",
    "direct_per_year": "NL",
    "disconnection_s": "t",
    "env_factor": "fenv",
    "drop_fraction": "limit",
    "drop_v_per_a_m": "(mV/A/m)/1000",
    "exponent_factor": "p",
    "factor": "(Ca · Cg · Ci · Cf)",
    "fault_a": "If",
    "full_a": "in full",
    "half_cycle_a2s": "I²t half",
    "hot_factor": "Chot",
    "ib_a": "Ib",
    "idn_a": "IΔn",
    "imax_8x20_a": "Imax",
    "in_8x20_a": "In (SPD)",
    "in_a": "In",
    "ipf_a": "Ipf",
    "ipf_board_max_a": "Ipf board",
    "ipf_board_min_a": "Ipf least",
    "ipf_min_a": "Ipf min",
    "it_a": "It",
    "it_needed_a": "It asked",
    "iz_a": "Iz",
    "k_factor": "k",
    "k_us": "k",
    "l1_a": "IL1",
    "l2_a": "IL2",
    "l3_a": "IL3",
    "drop_v_per_m": "u lead",
    "leads_m": "L leads",
    "leakage_a": "IL",
    "leakage_fraction": "allowed",
    "leakage_share": "share",
    "length_m": "L",
    "limit_c": "tp",
    "line_m": "L weighted",
    "line_ohm_per_m": "r1",
    "load_a": "Iload",
    "long_ratio": "long/short",
    "lp_m": "LP",
    "measured_factor": "cold",
    "near_per_year": "NI",
    "neutral_a": "IN",
    "ng_per_km2_year": "Ng",
    "nominal_v": "U",
    "once_10x350_a": "Ip once",
    "once_8x20_a": "Ip once 8/20",
    "one_way_ohm": "R one way",
    "paths": "paths",
    "per_kelvin_fraction": "α",
    "phases": "phases",
    "power_w": "P",
    "prearcing_a2s": "I²t melts",
    "r1_ohm": "r1 end to end",
    "r1r2_20c_ohm": "R1+R2",
    "r1r2_hot_ohm": "(R1+R2)hot",
    "r2_ohm": "r2 end to end",
    "share_factor": "share",
    "socket_a": "socket",
    "sockets": "sockets",
    "strip_direct_m": "strip",
    "strip_near_m": "strip",
    "submain_iz_a": "Iz",
    "submain_zs_max_ohm": "Zs max",
    "surge_a2s": "I²t surge",
    "time_s": "t",
    "touch_v": "UL",
    "trip_multiple": "m",
    "u0_v": "U0",
    "up_effective_v": "Up/f",
    "up_v": "Up",
    "used_per_year": "used",
    "volt_drop_warm_v": "u warm",
    "volt_drop_limit_v": "u max",
    "volt_drop_v": "u",
    "ways": "ways",
    "zdb_ohm": "Zdb",
    "ze_ohm": "Ze",
    "zs_cold_max_ohm": "Zs max cold",
    "zs_max_ohm": "Zs max",
    "zs_ohm": "Zs",
}
"""What the trade writes for a name of the code."""

_UNITS = (
    ("_v_per_a_m", "V/A/m"),
    ("_ohm_per_m", "Ω/m"),
    ("_v_per_m", "V/m"),
    ("_mm2", "mm2"),
    ("_a2s", "A²s"),
    ("_per_year", "/year"),
    ("_ohm", "ohm"),
    ("_a", "A"),
    ("_v", "V"),
    ("_w", "W"),
    ("_s", "s"),
    ("_c", "c"),
    ("_m", "m"),
    ("_share", "%"),
)
_NUMBERED = re.compile(r"(load|share|part)_(\d+)_(?:a|factor|ohm)")


def sign_of(name: str) -> str:
    """Return the sign of a value; those of a sum are numbered, as I1, I2."""
    numbered = _NUMBERED.fullmatch(name)
    if numbered:
        return f"{ {'load': 'I', 'share': 'f', 'part': 'R'}[numbered[1]] }{numbered[2]}"
    return SIGNS[name]


def unit_of(name: str) -> str:
    """Return the unit that a name ends in, empty for a pure number."""
    return next((unit for ending, unit in _UNITS if name.endswith(ending)), "")


@dataclass(frozen=True, slots=True)
class Formula:
    """How a figure comes from others. ``function`` takes the values by the names in ``written``.

    ``signs`` are for names that stand for different things in different formulas.
    """

    gives: str
    says: str
    written: str
    function: Callable[..., float]
    signs: Mapping[str, str] = field(default_factory=dict)

    @property
    def names(self) -> tuple[str, ...]:
        """The values it takes, in the order in which they are written."""
        found = (name for _, name, _, _ in Formatter().parse(self.written) if name)
        return tuple(dict.fromkeys(found))

    def filled(self, shown: Mapping[str, str]) -> str:
        """Return the formula with something shown for each value."""
        return self.written.format_map(shown)

    @property
    def in_signs(self) -> str:
        """The formula as a book prints it."""
        return self.filled(
            {n: self.signs[n] if n in self.signs else sign_of(n) for n in self.names}
        )


@dataclass(frozen=True, slots=True)
class Step:
    """One figure and how it came about. ``value`` is None where it cannot be known yet.

    ``gives`` names the figure as the code does, unit included. Without a formula the figure was
    surveyed, read off a table or chosen, and ``note`` says so; ``rule`` is None for what the
    survey brought.
    """

    part: str
    gives: str
    says: str
    value: float | None
    rule: Rule | None = None
    formula: Formula | None = None
    values: Mapping[str, float] = field(default_factory=dict)
    note: str = ""

    @property
    def sign(self) -> str:
        """What the trade writes for it."""
        return sign_of(self.gives)

    @property
    def unit(self) -> str:
        """Unit of its value, empty for a pure number."""
        return unit_of(self.gives)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One part of a working, on which its steps are written."""

    part: str

    def worked(
        self,
        formula: Formula,
        values: Mapping[str, float],
        rule: Rule | None = None,
        note: str = "",
    ) -> Step:
        """Return a step whose figure its formula's own function gives."""
        value = formula.function(**values)
        return Step(
            part=self.part,
            gives=formula.gives,
            says=formula.says,
            value=value,
            rule=rule,
            formula=formula,
            values=dict(values),
            note=note,
        )

    def given(
        self,
        gives: str,
        says: str,
        value: float | None,
        *,
        rule: Rule | None = None,
        note: str = "",
    ) -> Step:
        """Return a step whose figure was surveyed, read off a table, chosen, or is not known."""
        return Step(self.part, gives, says, value, rule, note=note)
