"""What shortens the SPD's leads here: named only where it would work."""

from __future__ import annotations

from boardwright.core.findings import Verdict
from boardwright.verification.facts import Facts
from boardwright.wiring.layout import Layout
from boardwright.wiring.netlist import sizes
from boardwright.wiring.through import NO_TERMINALS, why_not_through


def lead_remedy(facts: Facts, verdict: Verdict) -> str:
    """Return what to do about long leads, V wiring with what it would leave."""
    if verdict is Verdict.UNKNOWN:
        return "Measure the way that the leads will take."
    if verdict is Verdict.PASS:
        return ""
    ways = ["bring the earth bar or the SPD nearer", *_by_v_wiring(facts)]
    named = ", ".join([*ways, "or take an SPD of lower level"])
    return f"{named[0].upper()}{named[1:]}."


def _by_v_wiring(facts: Facts) -> list[str]:
    """Return V wiring as a way out, if the supply may run through the SPD's terminals."""
    leads = facts.wiring.spd_leads if facts.wiring else None
    if leads is None or facts.arrangement is None or leads.v_wired:
        return []
    layout = Layout(facts.arrangement)
    tails_mm2 = sizes(layout, facts.job, facts.edition).tails_mm2
    why = why_not_through(layout, facts.job, tails_mm2)
    if why == NO_TERMINALS:
        return [f"take an SPD with through terminals (V wiring leaves {leads.pe_m:.2f} m)"]
    if why:
        return []
    return [f"wire through its terminals (V wiring leaves {leads.pe_m:.2f} m)"]
