"""What speaks for and against one SPD at one place: a finding for each rule."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.catalogue.devices import DeviceType, SpdData
from boardwright.core.findings import Finding, Rule, Sense, Verdict
from boardwright.spd.results import Backup, BackupKind, SurgeNeed
from boardwright.spd.site import SpdSite
from boardwright.standards.edition import Edition

_WHOLE_ABOVE = 100.0


@dataclass(frozen=True, slots=True)
class Question:
    """One SPD, the place it would take, and the rules that decide."""

    device: DeviceType
    spd: SpdData
    backup: Backup
    site: SpdSite
    need: SurgeNeed
    edition: Edition

    @property
    def stress_v(self) -> float:
        """The higher of what it lets through to earth and between line and neutral. [V]

        Two varistors to earth leave the sum of both between line and neutral, where the
        equipment is.
        """
        return max(self.spd.up_v, self.spd.up_ln_v)

    @property
    def name(self) -> str:
        """Maker and name, as a person would ask for it."""
        return f"{self.device.maker} {self.device.name}"

    @property
    def modules(self) -> int:
        """Modules of the device and of the breaker that backs it up."""
        return self.device.modules + (self.backup.device.modules if self.backup.device else 0)

    def finding(
        self, check: str, key: str, verdict: Verdict, message: str, *, remedy: str = ""
    ) -> Finding:
        """Return a finding without figures on this device."""
        return Finding(
            check=check,
            verdict=verdict,
            subject=self.name,
            subject_id=self.device.id,
            message=message,
            rule=self.edition.rule(key),
            remedy=remedy,
        )

    def at_least(
        self, check: str, name: str, value: float, limit: float, *, unit: str, rule: Rule
    ) -> Finding:
        """Return a finding on a rating that must not be below a limit."""
        good = value >= limit
        # A limit that was worked out is told in whole units, rounded to the strict side.
        told = math.ceil(limit) if limit > _WHOLE_ABOVE else limit
        return Finding(
            check=check,
            verdict=Verdict.PASS if good else Verdict.FAIL,
            subject=self.name,
            subject_id=self.device.id,
            message=f"{name} {value:g} {unit}, at least {told:g} {unit} asked for.",
            rule=rule,
            value=value,
            limit=limit,
            unit=unit,
            sense=Sense.AT_LEAST,
            remedy="" if good else "Take another SPD.",
        )


def reasons(question: Question) -> Iterator[Finding]:
    """Yield every reason for and against, in the order in which a person would look."""
    yield from _type(question)
    yield _phases(question)
    yield _connection(question)
    yield from _behind_rcd(question)
    yield from _voltages(question)
    yield from _currents(question)
    yield _short_circuit(question)
    yield from _follow_current(question)
    yield _backup(question)
    yield _family(question)
    yield from _width(question)


def _type(question: Question) -> Iterator[Finding]:
    types, need = question.spd.types, question.need
    label = "+".join(types)
    if "T1" not in types and (need.least_type == "T1" or "T2" not in types):
        why = need.least_type_reason if need.least_type == "T1" else "T3 alone is no protection."
        message = f"{label} at the origin, {need.least_type} is the least. {why}"
        yield question.finding("spd.type", "spd.type", Verdict.FAIL, message)
        return
    message = f"{label}, where {need.least_type} is the least. {need.least_type_reason}"
    yield question.finding("spd.type", "spd.type", Verdict.PASS, message)
    if need.type_1_advised:
        verdict = Verdict.PASS if "T1" in types else Verdict.ADVISE
        message = "An overhead line in the country: Type 1+2 carries more of a nearby strike."
        yield question.finding("spd.type_overhead", "spd.type_overhead", verdict, message)


def _phases(question: Question) -> Finding:
    same = question.spd.phases == question.site.phases
    message = f"For {question.spd.phases}-phase supplies; this one has {question.site.phases}."
    verdict = Verdict.PASS if same else Verdict.FAIL
    return question.finding("spd.phases", "spd.phases", verdict, message)


def _connection(question: Question) -> Finding:
    site, connection = question.site, question.spd.connection
    if site.system == "TT" and site.ahead_of_rcd and connection != "CT2":
        message = (
            "CT1 ahead of the RCD of a TT system: a varistor failed short from line to earth "
            "would not clear and would make the earthing live. CT2 is compulsory."
        )
        return question.finding("spd.connection", "spd.connection", Verdict.FAIL, message)
    place = "ahead of the RCDs" if site.ahead_of_rcd else "behind an RCD"
    message = f"{connection} suits {site.system} {place}."
    return question.finding("spd.connection", "spd.connection", Verdict.PASS, message)


def _behind_rcd(question: Question) -> Iterator[Finding]:
    if question.site.ahead_of_rcd:
        return
    immune_a = question.edition.number("spd.rcd_immunity_a")
    if question.site.rcd_delayed:
        verdict = Verdict.ADVISE
        message = (
            f"Behind a time-delayed RCD: it carries {immune_a:g} A 8/20, a larger surge trips it."
        )
    else:
        verdict = Verdict.FAIL
        message = (
            f"Behind an RCD that is not time-delayed: {immune_a:g} A 8/20 immunity is asked for, "
            f"and a surge would trip it."
        )
    yield question.finding("spd.place", "spd.rcd_immunity_a", verdict, message)


def _voltages(question: Question) -> Iterator[Finding]:
    edition, spd, u0_v = question.edition, question.spd, question.site.u0_v
    for name, uc_v, key in (
        ("Uc", spd.uc_v, "spd.uc_factor"),
        ("Uc from neutral to earth", spd.uc_npe_v, "spd.uc_npe_factor"),
    ):
        limit_v = round(edition.number(key) * u0_v, 6)
        yield question.at_least("spd.uc", name, uc_v, limit_v, unit="V", rule=edition.rule(key))
    yield _protection_level(question)


def _protection_level(question: Question) -> Finding:
    edition, up_v = question.edition, question.stress_v
    good_v, max_v = edition.number("spd.up_good_v"), edition.number("spd.up_max_v")
    verdict = Verdict.PASS if up_v <= good_v else Verdict.ADVISE
    limit_v, key = good_v, "spd.up_good_v"
    if up_v > max_v:
        verdict, limit_v, key = Verdict.FAIL, max_v, "spd.up_max_v"
    return Finding(
        check="spd.up",
        verdict=verdict,
        subject=question.name,
        subject_id=question.device.id,
        message=(
            f"Up {question.spd.up_v:g} V to earth, {question.spd.up_ln_v:g} V between line and "
            f"neutral; {max_v:g} V at most, {good_v:g} V leaves room for the leads."
        ),
        rule=edition.rule(key),
        value=up_v,
        limit=limit_v,
        unit="V",
        remedy="" if verdict is Verdict.PASS else "Take an SPD of lower protection level.",
    )


def _currents(question: Question) -> Iterator[Finding]:
    edition, spd = question.edition, question.spd
    ct1 = spd.connection == "CT1"
    one = f"{spd.phases}ph"
    rows = [
        ("spd.in", "In", spd.in_8x20_a, "spd.t2_in_ct1_a" if ct1 else "spd.t2_in_ct2_ln_a"),
        (
            "spd.in",
            "In from neutral to earth",
            spd.in_npe_8x20_a,
            "spd.t2_in_ct1_a" if ct1 else f"spd.t2_in_ct2_npe_{one}_a",
        ),
    ]
    if "T1" in spd.types:
        npe_key = "spd.t1_iimp_a" if ct1 else f"spd.t1_iimp_npe_{one}_a"
        rows.append(("spd.iimp", "Iimp", spd.iimp_10x350_a or 0.0, "spd.t1_iimp_a"))
        npe_a = spd.iimp_npe_10x350_a or 0.0
        rows.append(("spd.iimp", "Iimp from neutral to earth", npe_a, npe_key))
    for check, name, value_a, key in rows:
        limit_a = edition.number(key)
        if name == "Iimp":
            limit_a = max(limit_a, question.need.iimp_min_10x350_a or 0.0)
        yield question.at_least(check, name, value_a, limit_a, unit="A", rule=edition.rule(key))


def _short_circuit(question: Question) -> Finding:
    name, isccr_a, ipf_a = "Short-circuit rating", question.spd.isccr_a, question.site.ipf_a
    return _bears(question, "spd.short_circuit", name, isccr_a, ipf_a)


def _follow_current(question: Question) -> Iterator[Finding]:
    """Hold what a gap interrupts by itself to the current that the mains sends after a surge."""
    spd, key = question.spd, "spd.follow_current"
    if spd.gap_to_line:
        yield _bears(question, key, "Ifi", spd.ifi_a, question.site.ipf_a)
    else:
        message = "A varistor stands to line: no mains current follows a surge."
        yield question.finding(key, key, Verdict.PASS, message)
    if spd.connection == "CT2":
        least_a, name = question.edition.number("spd.ifi_npe_a"), "Ifi from neutral to earth"
        yield _bears(question, "spd.ifi_npe_a", name, spd.ifi_npe_a, least_a)


def _bears(
    question: Question, key: str, name: str, rating_a: float | None, least_a: float | None
) -> Finding:
    """Hold a rating to a current: the prospective fault current, or what the rule asks for."""
    check = "spd.follow_current" if key == "spd.ifi_npe_a" else key
    if rating_a is not None and least_a is not None:
        rule = question.edition.rule(key)
        return question.at_least(check, name, rating_a, least_a, unit="A", rule=rule)
    if rating_a is None:
        message, remedy = f"{name} is not in the catalogue.", "Read it in its maker's sheet."
    else:
        message = f"{name} {rating_a:g} A; the prospective fault current is not known."
        remedy = "Measure the prospective fault current at the origin."
    return question.finding(check, key, Verdict.UNKNOWN, message, remedy=remedy)


def _backup(question: Question) -> Finding:
    backup = question.backup
    verdict, remedy = Verdict.PASS, ""
    if backup.kind is BackupKind.NONE:
        verdict, remedy = Verdict.FAIL, "Take an SPD whose back-up may stand in this enclosure."
    elif backup.kind is BackupKind.CUTOUT and backup.rating_a is None:
        verdict, remedy = Verdict.UNKNOWN, "Read the rating on the cut-out's carrier."
    elif backup.kind is BackupKind.CUTOUT:
        verdict = Verdict.ADVISE
    return question.finding("spd.backup", "spd.backup", verdict, backup.reason, remedy=remedy)


def _family(question: Question) -> Finding:
    family = question.site.family
    if not family:
        message = "The make of the board as found is not known: its maker must declare this SPD."
        remedy = "Ask the maker of the board."
        return question.finding("spd.family", "spd.family", Verdict.UNKNOWN, message, remedy=remedy)
    allowed = family in question.device.permitted_families
    message = (
        f"{'Declared' if allowed else 'Not declared'} by the maker of {family} for its boards."
    )
    verdict = Verdict.PASS if allowed else Verdict.FAIL
    return question.finding("spd.family", "spd.family", verdict, message)


def _width(question: Question) -> Iterator[Finding]:
    free = question.site.modules_free
    if free is None:
        return
    fits = question.modules <= free
    yield Finding(
        check="spd.width",
        verdict=Verdict.PASS if fits else Verdict.FAIL,
        subject=question.name,
        subject_id=question.device.id,
        message=f"{question.modules} modules with its back-up; {free} are free.",
        rule=question.edition.rule("spd.width"),
        value=question.modules,
        limit=free,
        unit="modules",
        remedy="" if fits else "Take a narrower SPD or a larger enclosure.",
    )
