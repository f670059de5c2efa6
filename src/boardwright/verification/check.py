"""The mark of a check, and the run over all of them."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterable

from boardwright.core.findings import Finding, Known, Rule, in_order
from boardwright.standards.edition import AbsentRuleError
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point

Check = Callable[[Facts], Iterable[Finding]]

_MARK = "boardwright_check"


def check(function: Check) -> Check:
    """Mark a function as a check: it is then found, with no list to edit."""
    setattr(function, _MARK, True)
    return function


def all_checks() -> tuple[Check, ...]:
    """Return every marked function of this package, in the order of module and line."""
    found: list[Check] = []
    package = importlib.import_module(__package__ or "boardwright.verification")
    for module_info in sorted(pkgutil.iter_modules(package.__path__), key=lambda m: m.name):
        module = importlib.import_module(f"{package.__name__}.{module_info.name}")
        found += [f for f in vars(module).values() if getattr(f, _MARK, False) is True]
    return tuple(dict.fromkeys(found))


def verify(facts: Facts) -> tuple[Finding, ...]:
    """Run every check and return the findings, gravest first."""
    return in_order(tuple(finding for run in all_checks() for finding in said(run, facts)))


def said(run: Check, facts: Facts) -> tuple[Finding, ...]:
    """Return what one check says; where the edition has no such rule, that it does not apply."""
    try:
        return tuple(run(facts))
    except AbsentRuleError:
        first, _, _ = (run.__doc__ or "").partition("\n")
        about = f"{run.__module__.rpartition('.')[2]}.{run.__name__}"
        rule = Rule("no clause", facts.edition.title, Known.FOUND)
        point = Point(about, "Rule of another edition", "edition", rule)
        return (point.spared(f"{facts.edition.title} has no such rule: {first}"),)
