"""Checks on how circuits are divided over RCDs, and on one RCD behind another."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.circuits.propose import Option, Proposal, prices_of, propose
from boardwright.core.findings import Finding, Sense
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point
from boardwright.verification.work import circuits_of_work, incomer_rcd, keeps_board, rcd_of


@check
def division(facts: Facts) -> Iterator[Finding]:
    """Weigh an RCBO on every way against sections, with what goes off together (314.1, 531.3.2)."""
    if facts.board is None or keeps_board(facts):
        return
    proposal = propose(
        facts.job,
        facts.catalogue,
        facts.edition,
        prices_of(facts.catalogue.permitted(facts.board.enclosure)),
    )
    taken = "split load" if facts.plan.sections else "RCBO on every way"
    point = Point("rcd.division", "Division", "division", facts.edition.rule("rcd.division"))
    said = _said(proposal, next(o for o in proposal.options if o.kind == taken))
    if proposal.proposed.kind == taken:
        yield point.passed(said)
    else:
        yield point.advised(
            said, f"Offer {_in_words(proposal.proposed)}; note it where the owner prefers this one."
        )


def _said(proposal: Proposal, taken: Option) -> str:
    groups = [" and ".join(names) for names in taken.down_together if len(names) > 1]
    together = f"Off together: {'; '.join(groups)}" if groups else "Each circuit goes off alone"
    return f"{together}. {'; '.join(proposal.reasons)}."


def _in_words(option: Option) -> str:
    return "an RCBO on every way" if option.kind == "RCBO on every way" else "two sections"


@check
def selectivity(facts: Facts) -> Iterator[Finding]:
    """Ask of an RCD ahead of others that it lets them trip first (536.4.1.4)."""
    ahead = incomer_rcd(facts)
    if ahead is None or ahead.idn_a is None:
        return
    below = [idn for _, r in circuits_of_work(facts) if (idn := rcd_of(facts, r)[1]) is not None]
    if not below:
        return
    least_a = facts.edition.number("rcd.selectivity_ratio") * max(below)
    rule = facts.edition.rule("rcd.selectivity")
    point = Point(
        "rcd.selectivity",
        ahead.name,
        "incomer-rcd",
        rule,
        ahead.idn_a,
        least_a,
        "A",
        Sense.AT_LEAST,
    )
    shown = f"{ahead.idn_a * 1000:g} mA ahead of {max(below) * 1000:g} mA"
    if ahead.time_delayed and ahead.idn_a >= least_a:
        yield point.passed(f"{shown}, time-delayed: a fault in one circuit takes that one off.")
    else:
        why = "not time-delayed" if not ahead.time_delayed else "too near below it"
        yield point.advised(
            f"{shown}, {why}: a fault in one circuit may take the whole home off.",
            f"Take a time-delayed RCD of at least {least_a * 1000:g} mA ahead of all.",
        )
