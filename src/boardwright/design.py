"""The whole calculation on one page: from a survey to a design.

If you read one function, read :func:`design`. Each stage returns a new frozen
value; no stage edits an earlier one, reads a file or a clock.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from boardwright import __version__
from boardwright.board.again import again
from boardwright.board.arrange import arrange
from boardwright.board.offer import offers, out_of_question, schemes, wished
from boardwright.board.plan import plan_board
from boardwright.board.results import Arrangement, BoardPlan, Scheme
from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.circuits.plan import plan_circuits
from boardwright.circuits.results import CircuitPlan
from boardwright.core.findings import Finding, Verdict, in_order
from boardwright.gate.judge import judge
from boardwright.job.job import Job
from boardwright.job.refer import check_references
from boardwright.spd.need import surge_need
from boardwright.spd.results import Need, SpdChoice, SurgeNeed
from boardwright.spd.select import SpdSite, choose_spd, take
from boardwright.standards.edition import Edition
from boardwright.standards.overrides import overrides
from boardwright.standards.trace import Trace, watched
from boardwright.surge.assumptions import Assumptions, load_assumptions
from boardwright.surge.from_board import home_by_line
from boardwright.surge.study import LeadRule, SurgeStudy, study_lines
from boardwright.verification.check import verify
from boardwright.verification.facts import Facts
from boardwright.verification.own_figures import own_figures
from boardwright.wiring.results import Wiring
from boardwright.wiring.wire import wire

SPD_TRIES = 3
"""How many suitable SPDs are wired before the best of them is taken."""


Told = Callable[[str, float], None]
"""Is told what is being worked out and which fraction of all is done; may raise to end the work."""

_PLANNED = 0.05
"""Fraction of a design's work that its circuits are."""
_WIRED, _STUDIED = 0.5, 0.9
"""Fractions of a scheme's work that are done once its boards are wired, and its surge studied."""


@dataclass(frozen=True, slots=True)
class Variant:
    """One scheme worked out to the last wire, with its findings."""

    scheme: Scheme
    board: BoardPlan
    spd: SpdChoice
    arrangement: Arrangement
    wiring: Wiring
    study: SurgeStudy
    findings: tuple[Finding, ...]

    @property
    def rank(self) -> tuple[float, ...]:
        """Smaller is better: stops, fails, unknowns, advice, then the lead sum."""
        leads_m = self.wiring.spd_leads.total_m if self.wiring.spd_leads else 0.0
        counts = [
            sum(finding.verdict is verdict for finding in self.findings)
            for verdict in (Verdict.STOP, Verdict.FAIL)
        ]
        return (*counts, leads_m)


@dataclass(frozen=True, slots=True)
class Design:
    """The immutable result. ``variants`` stand best first; the first is the design.

    ``findings`` are the gate's and those of the first variant, gravest first.
    """

    job: Job
    edition: Edition
    catalogue: Catalogue
    plan: CircuitPlan
    need: SurgeNeed
    gate: tuple[Finding, ...]
    variants: tuple[Variant, ...]
    out_of_question: tuple[tuple[Scheme, str], ...]
    findings: tuple[Finding, ...]

    @property
    def chosen(self) -> Variant:
        """The variant that the design proposes."""
        return self.variants[0]

    @property
    def forbids_work(self) -> bool:
        """True where a finding says that the work must not go ahead."""
        return any(finding.verdict is Verdict.STOP for finding in self.findings)

    @property
    def mark(self) -> str:
        """Four signs that tell one design from another: of job, catalogue, edition, program."""
        parts = (self.job_digest, self.catalogue.digest, self.edition.digest, __version__)
        return hashlib.sha256("/".join(parts).encode()).hexdigest()[:4]

    @property
    def job_digest(self) -> str:
        """Hash of the job as read."""
        return hashlib.sha256(self.job.model_dump_json().encode()).hexdigest()


_Wired = tuple[BoardPlan, SpdChoice, Arrangement, Wiring]


@dataclass(frozen=True, slots=True)
class _Given:
    """What every variant starts from."""

    job: Job
    catalogue: Catalogue
    edition: Edition
    assumed: Assumptions
    plan: CircuitPlan
    need: SurgeNeed


def design(
    job: Job,
    catalogue: Catalogue,
    edition: Edition,
    assumed: Assumptions | None = None,
    *,
    told: Told = lambda _words, _fraction: None,
) -> Design:
    """Work out a board for a job. The same job always gives the same design.

    ``assumed`` are the surge study's assumptions; left out, those that come with the program.
    ``told`` hears how far it is; it changes nothing of the answer.

    Raises
    ------
    InputErrors
        The job names an appliance, device or enclosure that the catalogue lacks.
    """
    check_references(job, catalogue.spds, catalogue.units, catalogue.appliances)
    trace = Trace()
    # Only the user's own figures are watched: each must say whether it acted.
    asked = watched(edition, trace) if any(overrides(edition)) else edition
    gate = judge(job, asked)
    plan = plan_circuits(job, catalogue, asked)
    need = surge_need(job, asked)
    given = _Given(job, catalogue, asked, assumed or load_assumptions(), plan, need)
    declined = need.need is Need.DECLINED
    possible = schemes(job, catalogue, declined=declined)
    worked_out = (
        _variant(scheme, given, _share(told, number, len(possible)))
        for number, scheme in enumerate(possible)
    )
    first = wished(job, possible)
    variants = tuple(sorted(worked_out, key=lambda tried: (tried.scheme not in first, tried.rank)))
    return Design(
        job=job,
        edition=edition,
        catalogue=catalogue,
        plan=plan,
        need=need,
        gate=gate,
        variants=variants,
        out_of_question=out_of_question(job, catalogue, declined=declined),
        findings=in_order(gate + variants[0].findings + own_figures(edition, trace)),
    )


def _share(told: Told, number: int, count: int) -> Told:
    """Return who is told of one scheme among several: its fractions become those of all."""
    return lambda words, fraction: told(
        words, _PLANNED + (1 - _PLANNED) * (number + fraction) / count
    )


def _variant(scheme: Scheme, given: _Given, told: Told) -> Variant:
    """Work out one scheme: wire each SPD worth a try, take one, study and check it.

    The loop is here to be seen: lead length depends on the arrangement, so whether an SPD
    keeps within the lead rule is known only once it is wired. Among those that do, the
    order of the choice stands.
    """
    wired: list[_Wired] = []
    for board, spd in _boards(scheme, given):
        told(f"{scheme.value}: order and wiring", _WIRED * len(wired) / SPD_TRIES)
        wired.append(_wired(board, spd, given, wired))
    told(f"{scheme.value}: what a surge leaves", _WIRED)
    board, spd, arrangement, wiring = min(wired, key=lambda tried: _lead_class(tried[3], given))
    homes = home_by_line(given.job, given.catalogue, given.edition, spd, wiring, plan=given.plan)
    rule = LeadRule(given.edition.number("spd.lead_v_per_m"))
    surge = study_lines(homes, given.assumed, rule)
    told(f"{scheme.value}: checks", _STUDIED)
    facts = Facts(
        job=given.job,
        edition=given.edition,
        catalogue=given.catalogue,
        plan=given.plan,
        need=given.need,
        spd=spd,
        board=board,
        arrangement=arrangement,
        wiring=wiring,
        study=surge,
    )
    return Variant(scheme, board, spd, arrangement, wiring, surge, verify(facts))


def _boards(scheme: Scheme, given: _Given) -> Iterator[tuple[BoardPlan, SpdChoice]]:
    """Yield each SPD worth wiring in the smallest enclosure of its family that holds all.

    The better SPD comes before the smaller enclosure: a module of steel costs less than
    a lesser device does over its life.
    """
    by_family: dict[str, list[EnclosureType]] = {}
    for enclosure in offers(scheme, given.job, given.catalogue):
        by_family.setdefault(enclosure.family, []).append(enclosure)
    wanting: list[tuple[BoardPlan, SpdChoice]] = []
    for enclosures in by_family.values():
        whole = False
        for spd in _spds(enclosures[0], given):
            for enclosure in enclosures:
                board = plan_board(scheme, enclosure, given.job, given.plan, spd, given.catalogue)
                if not board.missing:
                    whole = True
                    yield board, spd
                    break
                wanting.append((board, spd))
        if whole:
            return
    # Nothing holds everything: what lacks least says, in its findings, what is missing.
    yield from sorted(wanting, key=lambda tried: tried[0].shortfall)[:1]


def spd_site(job: Job, plan: CircuitPlan, family: str) -> SpdSite:
    """Return the place that an SPD is chosen for, in an enclosure of a family."""
    supply = job.supply
    return SpdSite(
        system=supply.system,
        phases=supply.phases,
        u0_v=supply.u0_v,
        # A remote board stands behind the fuse of its submain, not behind the cut-out alone.
        cutout_fuse_a=supply.submain.fuse_a if supply.submain else supply.cutout_fuse_a,
        ipf_a=plan.origin.ipf_board_max_a,
        family=family,
        ahead_of_rcd=True,
        rcd_delayed=False,
        modules_free=None,
        wanted=job.wishes.spd,
    )


def _spds(enclosure: EnclosureType, given: _Given) -> tuple[SpdChoice, ...]:
    """Return the choices of SPD for an enclosure, best first by its own figures."""
    site = spd_site(given.job, given.plan, enclosure.family)
    choice = choose_spd(site, given.need, given.catalogue, given.edition)
    suitable = [c for c in choice.candidates if c.suitable] if choice.candidate else []
    # A wish for one device is met where the device suits; the others are not even wired.
    suitable = [c for c in suitable if c.device.id == site.wanted] or suitable
    return tuple(
        take(choice, candidate, given.edition, wanted=site.wanted)
        for candidate in suitable[:SPD_TRIES]
    ) or (choice,)


def _wired(
    board: BoardPlan, spd: SpdChoice, given: _Given, before: Sequence[_Wired] = ()
) -> _Wired:
    """Arrange and wire one board with one SPD; ``before`` are those wired already.

    SPDs of one shape stand in the same places: those are not searched for again.
    """
    known = (again(tried[2], tried[0], board) for tried in before)
    found = next(filter(None, known), None)
    arrangement = found or arrange(board, given.job.wishes)
    return board, spd, arrangement, wire(arrangement, given.job, spd, given.edition)


def _lead_class(wiring: Wiring, given: _Given) -> int:
    """Return 0 for leads within the preferred length, 1 within the longest, 2 beyond."""
    if wiring.spd_leads is None:
        return 0
    limits_m = (given.edition.number("spd.leads_good_m"), given.edition.number("spd.leads_max_m"))
    return sum(wiring.spd_leads.total_m > limit_m for limit_m in limits_m)
