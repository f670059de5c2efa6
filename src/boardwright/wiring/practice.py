"""Sizes, allowances and invented prices of the wiring, from the file beside this one."""

from __future__ import annotations

import pkgutil
import tomllib
from functools import cache
from typing import Any

from boardwright.core.findings import Known, Rule


@cache
def load(name: str) -> dict[str, Any]:
    """Return a data file of this package.

    It is part of the program, as its code is: it cannot differ between two runs.
    """
    return tomllib.loads((pkgutil.get_data(__package__, name) or b"").decode())


def figure(section: str, key: str) -> float:
    """Return one figure; its unit is in its key."""
    return float(load("practice.toml")[section][key])


def neutral_link_mm2(rating_a: float) -> float:
    """Return the size of a link between main switch, RCDs and bars. [mm²]"""
    return _by_rating_mm2("neutral_link", rating_a)


def way_link_mm2(rating_a: float) -> float:
    """Return the size of a link to one way. [mm²]"""
    return _by_rating_mm2("way_link", rating_a)


def _by_rating_mm2(section: str, rating_a: float) -> float:
    rows = load("practice.toml")[section]
    steps = zip(rows["up_to_a"], rows["csa_mm2"], strict=True)
    return float(next(csa for up_to_a, csa in steps if rating_a <= up_to_a))


def rule(name: str, edition_title: str) -> Rule:
    """Return what a finding on the wiring cites."""
    row = load("practice.toml")["rules"][name]
    return Rule(row["clause"], edition_title, Known(row["known"]))


def core_diameter_mm(csa_mm2: float) -> float:
    """Return the diameter over the insulation of one core. [mm]"""
    rows = load("practice.toml")["outside"]
    sizes = zip(rows["csa_mm2"], rows["diameter_mm"], strict=True)
    return float(next((d for s, d in sizes if csa_mm2 <= s), rows["diameter_mm"][-1]))


def least_bend_mm(csa_mm2: float) -> float:
    """Return the least inside radius of a bend in the real core. [mm]"""
    diameter_mm = core_diameter_mm(csa_mm2)
    small = diameter_mm <= figure("bend", "small_up_to_mm")
    return diameter_mm * figure("bend", "multiple_small" if small else "multiple_large")
