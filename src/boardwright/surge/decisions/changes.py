"""Changes that lower a surge, each with what it costs and what it changes of the home."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from boardwright.core.findings import Finding, Verdict
from boardwright.spd.results import BackupKind, Candidate
from boardwright.spd.select import take
from boardwright.surge.assumptions import Assumptions
from boardwright.surge.decisions.leads import (
    of_total,
    through,
    total_m,
    with_device,
    with_spd,
)
from boardwright.surge.decisions.second import second_spd, with_second
from boardwright.surge.decisions.subject import Subject
from boardwright.surge.decisions.v_wiring import through_in_box, why_not_v
from boardwright.surge.from_board import spd_as_wired
from boardwright.surge.home import HomeSurge, SpdAsWired
from boardwright.wiring.wire import wire

Studied = tuple[HomeSurge, Assumptions]
"""A home and what is assumed of it: what a change may alter."""


@dataclass(frozen=True, slots=True)
class Change:
    """One lawful change: in words, with what else it brings, its cost, and the home after it.

    ``parts_gbp`` may be below 0 where a part is no longer bought; ``cost_gbp`` weighs parts and
    hours together.
    """

    key: str
    words: str
    note: str
    parts_gbp: float
    work_h: float
    cost_gbp: float
    made: Callable[[Studied], Studied]

    def and_also(self, other: Change) -> Change:
        """Return both changes as one."""
        return Change(
            f"{self.key} + {other.key}",
            f"{self.words}; {other.words[0].lower()}{other.words[1:]}",
            f"{self.note} {other.note}",
            self.parts_gbp + other.parts_gbp,
            self.work_h + other.work_h,
            self.cost_gbp + other.cost_gbp,
            lambda studied: other.made(self.made(studied)),
        )


def changes(subject: Subject) -> tuple[Change, ...]:
    """Return every change that the home and the catalogue allow, the cheapest first."""
    found = [*_seconds(subject)]
    if subject.home.spd is not None:
        found += [
            *_of_leads(subject, subject.home.spd),
            *_without_backup(subject),
            *_others(subject),
        ]
    return tuple(sorted(found, key=lambda change: (change.cost_gbp, change.key)))


def _change(
    subject: Subject,
    key: str,
    made: Callable[[Studied], Studied],
    *,
    kind: str = "",
    parts_gbp: float = 0.0,
    said: Mapping[str, object] = MappingProxyType({}),
) -> Change:
    """Return a change with the words, hours and weight of its kind; ``said`` fills the words."""
    costs = subject.assumed.costs
    row = costs.changes[kind or key]
    return Change(
        key,
        row.words.format_map(said),
        row.note.format_map(said),
        parts_gbp,
        row.work_h,
        parts_gbp + row.work_h * costs.rate_gbp,
        made,
    )


def _respd(alter: Callable[[SpdAsWired], SpdAsWired]) -> Callable[[Studied], Studied]:
    """Return the change of a home that alters the SPD at its board."""

    def made(studied: Studied) -> Studied:
        home, assumed = studied
        return (with_spd(home, alter(home.spd)) if home.spd else home), assumed

    return made


def _always(spd: SpdAsWired) -> Callable[[SpdAsWired], SpdAsWired]:
    return lambda _now: spd


def _of_leads(subject: Subject, spd: SpdAsWired) -> Iterator[Change]:
    yield _change(subject, "strapped", _strapped)
    good_m = subject.edition.number("spd.leads_good_m")
    if total_m(spd) > good_m:
        shorter = _respd(lambda now: of_total(now, good_m))
        yield _change(subject, "shorter", shorter, said={"length_m": good_m})
    if not why_not_v(subject):
        yield _change(subject, "through", _respd(through))
        return
    boxed = through_in_box(subject)
    if boxed.wired is not None:
        yield _change(
            subject,
            "through_box",
            _respd(_always(boxed.wired)),
            parts_gbp=boxed.parts_gbp,
            said={"device": boxed.name},
        )


def _strapped(studied: Studied) -> Studied:
    """Hold the inductance of the leads at what a strapped pair of them has."""
    home, assumed = studied
    item = assumed.inputs["lead_factor"]
    tied = replace(item, typical=item.low, high=item.low)
    return home, replace(assumed, inputs={**assumed.inputs, item.name: tied})


def _without_backup(subject: Subject) -> Iterator[Change]:
    """Yield the fuse ahead as back-up, where the SPD's maker accepts one so large."""
    candidate, leads, fuse_a = subject.spd.candidate, subject.wiring.spd_leads, subject.fuse_ahead_a
    if candidate is None or candidate.device.spd is None or leads is None or fuse_a is None:
        return
    most_a = candidate.device.spd.backup_max_gg_a
    if candidate.backup.kind is not BackupKind.MCB or fuse_a > most_a:
        return
    backup = candidate.backup.device
    alter = _respd(
        lambda now: replace(
            now, backup_fitted=False, lead_l_m=max(0.0, now.lead_l_m - leads.backup_m)
        )
    )
    spared_gbp = backup.price_gbp if backup else 0.0
    said = {"fuse_a": fuse_a, "most_a": most_a}
    yield _change(subject, "no_backup", alter, parts_gbp=-spared_gbp, said=said)


def _others(subject: Subject) -> Iterator[Change]:
    """Yield each other SPD that suits this enclosure, in the same place and wired anew."""
    taken = subject.spd.candidate
    if taken is None:
        return
    for candidate in subject.spd.candidates:
        if not candidate.suitable or candidate.device.id == taken.device.id:
            continue
        other = _rewired(subject, candidate)
        if other is None:
            continue
        yield _change(
            subject,
            f"other {candidate.device.id}",
            _respd(_always(other)),
            kind="other",
            parts_gbp=_price_gbp(candidate) - _price_gbp(taken),
            said={
                "device": candidate.device.name,
                "id": candidate.device.id,
                "length_m": total_m(other),
                "advice": "".join(f" {found.message}" for found in _advice(candidate)),
            },
        )


def _advice(candidate: Candidate) -> list[Finding]:
    return [found for found in candidate.checks if found.verdict is Verdict.ADVISE]


def _rewired(subject: Subject, candidate: Candidate) -> SpdAsWired | None:
    """Return another SPD with the leads that its own terminals give it in this board."""
    data = candidate.device.spd
    there = with_device(subject.arrangement, candidate)
    if data is None or there is None:
        return None
    spd = take(subject.spd, candidate, subject.edition)
    leads = wire(there, subject.job, spd, subject.edition).spd_leads
    if leads is None:
        return None
    return spd_as_wired(
        data,
        leads_m=(leads.line_m, leads.neutral_m, leads.pe_m),
        csa_mm2=spd.csa_line_mm2,
        backup_fitted=candidate.backup.kind is BackupKind.MCB,
    )


def _price_gbp(candidate: Candidate) -> float:
    backup = candidate.backup.device if candidate.backup.kind is not BackupKind.CUTOUT else None
    return candidate.device.price_gbp + (backup.price_gbp if backup else 0.0)


def _seconds(subject: Subject) -> Iterator[Change]:
    """Yield a second SPD at each appliance of the study."""
    second = second_spd(subject.catalogue, subject.assumed.costs.second_lead_m)
    if second is None:
        return
    for circuit in subject.home.studied:
        place = circuit.appliance.name if circuit.appliance else circuit.name
        yield _change(
            subject,
            f"second at {circuit.name}",
            _seconded(circuit.name, second.wired),
            kind="second",
            parts_gbp=second.parts_gbp,
            said={"device": second.device.name, "place": place},
        )


def _seconded(place: str, spd: SpdAsWired) -> Callable[[Studied], Studied]:
    def made(studied: Studied) -> Studied:
        home, assumed = studied
        return with_second(home, place, spd), assumed

    return made
