"""Checks on what carries the SPD's surges with it: its own back-up, and the fuses of the home."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from boardwright.catalogue.devices import SpdData
from boardwright.core.findings import Finding, Rule
from boardwright.spd.ahead import own_ahead, shared_ahead
from boardwright.spd.withstand import Ahead, Answer, Withstand, contradiction, withstand
from boardwright.standards.edition import Edition
from boardwright.verification.check import check
from boardwright.verification.facts import Facts
from boardwright.verification.say import Point, joined

_OPENS = (Answer.OPENS, Answer.TEST_EXCEEDED)
_GRAVEST = ("Iimp", "In", "Imax")
"""The rating to show first where several exceed what the fuse bears."""


@check
def home_fuse_carries_the_surge(facts: Facts) -> Iterator[Finding]:
    """Ask whether a fuse that feeds the home may open before the SPD has done its work.

    With or without a breaker of its own, the surge that the SPD diverts comes through this fuse.
    """
    spd = _spd(facts)
    if spd is None:
        return
    for ahead in shared_ahead(facts.job):
        yield _home_fuse(ahead, withstand(ahead, spd, facts.edition), facts.edition)


@check
def own_backup_carries_the_surge(facts: Facts) -> Iterator[Finding]:
    """Ask of the SPD's own back-up that it carries In: if it opens, the SPD is off unnoticed."""
    candidate, spd = facts.spd.candidate, _spd(facts)
    ahead = own_ahead(candidate.backup) if candidate else None
    if spd is None or ahead is None:
        return
    yield _own_backup(ahead, withstand(ahead, spd, facts.edition), facts.edition)


def _home_fuse(ahead: Ahead, found: Sequence[Withstand], edition: Edition) -> Finding:
    carries = edition.rule("spd.carries_in")
    point = _point("spd.fuse_ahead", ahead, carries)
    must = [one for one in found if one.impulse.name != "Imax"]
    if all(one.answer is Answer.CARRIED for one in must):
        return point.passed(f"Its maker tested: {_tested(found)}")
    rule = joined(carries, edition.rule("fuse.gg_prearcing_min"), edition.rule("fuse.laboratory"))
    opening = [one for name in _GRAVEST for one in found if _named(one, name) in _OPENS]
    if opening:
        worst = opening[0]
        limit_a = worst.bound_a if worst.answer is Answer.OPENS else worst.tested_a
        point = _point("spd.fuse_ahead", ahead, rule, worst.impulse.crest_a, limit_a)
        return point.advised(
            f"{_surge(worst)} can open it{_others(opening[1:])}. {_why(worst, edition)}",
            "Nothing to change, for a breaker of the SPD's own would not spare it the surge: tell "
            f"the owner that the supply can fail after one, and that {ahead.put_back}.",
        )
    unsettled = next(one for one in must if one.answer is not Answer.CARRIED)
    return _point("spd.fuse_ahead", ahead, rule).unknown(
        f"{_surge(unsettled)}: {_so_far(unsettled)}. {_by_sum(unsettled, edition)}",
        "Ask the SPD's maker what it passed behind this fuse; till then the supply may fail "
        "after a large surge.",
    )


def _own_backup(ahead: Ahead, found: Sequence[Withstand], edition: Edition) -> Finding:
    nominal = next(one for one in found if one.impulse.name == "In")
    rule = edition.rule("spd.carries_in")
    point = _point("spd.backup_carries", ahead, rule, nominal.impulse.crest_a, nominal.tested_a)
    match nominal.answer:
        case Answer.CARRIED:
            return point.passed(
                f"Its maker tested: {_tested(found)} Should it open, the SPD is off and the home "
                "is not: see that it is on after a storm."
            )
        case Answer.TEST_EXCEEDED:
            return point.failed(
                f"{_surge(nominal)}: its maker's test passed {_ka(nominal.tested_a)}. It may open "
                "and leave the SPD off, unnoticed.",
                "Take the back-up that its maker tested for In.",
            )
        case _:
            scatter = edition.text("mcb.scatter")
            why = f"{scatter[0].upper()}{scatter[1:]}." if ahead.mcb else "No sum settles it."
            return point.unknown(
                f"{_surge(nominal)}: the figure of its maker's test is not in the catalogue. {why}",
                "Ask the SPD's maker what it passed behind this back-up.",
            )


def _point(
    check_id: str,
    ahead: Ahead,
    rule: Rule,
    crest_a: float | None = None,
    limit_a: float | None = None,
) -> Point:
    limit_a = None if limit_a is None else round(limit_a, 1)
    return Point(check_id, ahead.name, ahead.id, rule, crest_a, limit_a, "A")


def _why(one: Withstand, edition: Edition) -> str:
    if one.answer is Answer.TEST_EXCEEDED:
        return f"Its maker's test passed {_ka(one.tested_a)}."
    return _by_sum(one, edition)


def _by_sum(one: Withstand, edition: Edition) -> str:
    """Say what the sum bounds, what it is of, and what was published against it."""
    if one.bound_a is None:
        return "No sum settles it either."
    wave = one.impulse.wave.value
    return (
        f"By sum a gG fuse of this size{one.ahead.not_gg} carries at most {_ka(one.bound_a)} of "
        f"{wave}. {contradiction(edition)}."
    )


def _tested(found: Sequence[Withstand]) -> str:
    passing = " and ".join(_surge(one) for one in found if one.answer is Answer.CARRIED)
    beyond = [one for one in found if one.answer is not Answer.CARRIED]
    said = [f"{passing} left it closed"]
    said += [f"at {_surge(one)} it may open ({_ka(one.tested_a)} was tested)" for one in beyond]
    return f"{', '.join(said)}."


def _others(found: Sequence[Withstand]) -> str:
    return f", and so can {' and '.join(map(_surge, found))}" if found else ""


def _so_far(one: Withstand) -> str:
    if one.tested_a is None:
        return "its maker states no test behind such a fuse"
    return f"behind a smaller fuse its maker tested {_ka(one.tested_a)}"


def _named(one: Withstand, name: str) -> Answer | None:
    return one.answer if one.impulse.name == name else None


def _surge(one: Withstand) -> str:
    impulse = one.impulse
    return f"{impulse.name} {_ka(impulse.crest_a)} {impulse.wave.value}"


def _ka(value_a: float | None) -> str:
    return "nothing" if value_a is None else f"{value_a / 1000:.3g} kA"


def _spd(facts: Facts) -> SpdData | None:
    return facts.spd.candidate.device.spd if facts.spd.candidate else None
