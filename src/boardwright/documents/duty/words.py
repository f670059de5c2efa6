"""Back-up, failure and wear of the SPD as rows and sentences, for papers and page alike."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.core.findings import Finding
from boardwright.design import Design
from boardwright.documents.words.figures import quantity, sentence
from boardwright.documents.workings.duty import device_told, wear_of
from boardwright.spd.ahead import own_ahead, shared_ahead
from boardwright.spd.results import Need
from boardwright.spd.wear_words import NOT_COUNTED, how_often, life_sentence, size_words
from boardwright.spd.withstand import Answer, Withstand, contradiction, withstand

_ANSWERS = {
    Answer.CARRIED: "stays closed",
    Answer.TEST_EXCEEDED: "may open",
    Answer.OPENS: "opens",
    Answer.NOT_SETTLED: "not settled",
}


@dataclass(frozen=True, slots=True)
class AheadRow:
    """One surge through one device: what its maker tested, what the sum bounds, what follows."""

    device: str
    surge: str
    tested: str
    bound: str
    answer: str


@dataclass(frozen=True, slots=True)
class DutyWords:
    """All that is said of an SPD's back-up, failure and wear. Empty where there is none."""

    ahead: tuple[AheadRow, ...]
    bound_note: str
    failure: str
    often: tuple[tuple[str, str], ...]
    life: str
    not_counted: str
    declined: bool


def duty_words(design: Design) -> DutyWords | None:
    """Return what is said of the SPD taken or declined, or None where no SPD suits."""
    found, device = wear_of(design), device_told(design)
    if found is None or device is None:
        return None
    declined = design.chosen.spd.candidate is None
    name = f"the {device.maker} {device.name}" if declined else "its duty"
    ahead = tuple(_row(each) for each in on_the_way(design))
    bounded = any(row.bound for row in ahead)
    return DutyWords(
        ahead=ahead,
        bound_note=f"{contradiction(design.edition)}." if bounded else "",
        failure=_failure(design.findings),
        often=tuple((size_words(o, "or more"), how_often(o.times_per_year)) for o in found.often),
        life=sentence(life_sentence(found, name=name)),
        not_counted=NOT_COUNTED,
        declined=declined,
    )


def on_the_way(design: Design) -> tuple[Withstand, ...]:
    """Return each surge of the SPD taken through each device between it and the network."""
    candidate = design.chosen.spd.candidate
    if candidate is None or candidate.device.spd is None:
        return ()
    own = own_ahead(candidate.backup)
    devices = (*shared_ahead(design.job), *((own,) if own else ()))
    data = candidate.device.spd
    return tuple(each for ahead in devices for each in withstand(ahead, data, design.edition))


def is_declined(design: Design) -> bool:
    """Tell whether the owner's word stands against surge protection."""
    return design.need.need is Need.DECLINED


def _failure(findings: tuple[Finding, ...]) -> str:
    found = next((finding for finding in findings if finding.check == "spd.failure"), None)
    return sentence(found.message) if found else ""


def _row(each: Withstand) -> AheadRow:
    impulse = each.impulse
    return AheadRow(
        device=each.ahead.name,
        surge=f"{impulse.name} {quantity(impulse.crest_a, 'A')}, {impulse.wave.value}",
        tested=_known(each.tested_a),
        bound=f"under {quantity(each.bound_a, 'A')}" if each.bound_a is not None else "",
        answer=_ANSWERS[each.answer],
    )


def _known(value_a: float | None) -> str:
    return "" if value_a is None else quantity(value_a, "A")
