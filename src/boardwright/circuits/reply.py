"""What is answered of one circuit: its findings, the backward questions, the ways out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from boardwright.catalogue.catalogue import Catalogue
from boardwright.circuits.altered import sizes, with_cable
from boardwright.circuits.judged import judged
from boardwright.circuits.origin import origin_of
from boardwright.circuits.remedy import Remedy, remedies
from boardwright.circuits.results import CircuitResult
from boardwright.circuits.reverse import (
    LargestDevice,
    LargestLoad,
    LongestRun,
    SmallestCable,
    largest_device,
    largest_load,
    longest_run,
    smallest_cable,
)
from boardwright.circuits.single import Asked, job_around, of_option
from boardwright.circuits.site import Site
from boardwright.core.errors import FieldError
from boardwright.core.findings import Finding
from boardwright.job.circuit import Circuit
from boardwright.job.words import NOTHING
from boardwright.standards.edition import Edition

_NO_DEVICES = Catalogue({}, {}, {})
_SHORT_M = "1"
_ANY_MM2 = "2.5"


@dataclass(frozen=True, slots=True)
class Questions:
    """Which of the backward questions are asked."""

    longest: bool = False
    smallest: bool = False
    largest: bool = False


@dataclass(frozen=True, slots=True)
class Reply:
    """The circuit as answered for, and what is found of it; what was not asked is None.

    Where length or size was the question, the circuit is the one with the answer in it.
    """

    circuit: Circuit
    site: Site
    result: CircuitResult
    findings: tuple[Finding, ...]
    ways_out: tuple[Remedy, ...]
    longest: LongestRun | None = None
    smallest: SmallestCable | None = None
    load: LargestLoad | None = None
    device: LargestDevice | None = None


def reply(asked: Asked, questions: Questions, edition: Edition) -> Reply:
    """Answer for one circuit.

    Raises
    ------
    FieldError, InputErrors
        An option cannot be used, or one is missing that no question stands for.
    """
    _complete(asked, questions)
    try:
        return _reply(asked, questions, edition)
    except FieldError as error:
        raise of_option(error) from None


def _reply(asked: Asked, questions: Questions, edition: Edition) -> Reply:
    job = job_around(_filled(asked), edition)
    site = Site(job, origin_of(job, 0.0, edition), _NO_DEVICES, edition)
    circuit = job.circuits[0]
    smallest = smallest_cable(circuit, site) if questions.smallest else None
    if asked.size is None and smallest is not None:
        circuit = _of_size(circuit, smallest, site)
    longest = longest_run(circuit, site) if questions.longest else None
    if asked.length is None and longest is not None and longest.length_m > 0:
        circuit = with_cable(circuit, {"length_m": longest.length_m})
    result = site.assessed(circuit)
    return Reply(
        circuit=circuit,
        site=site,
        result=result,
        findings=judged(circuit, result, site),
        ways_out=remedies(circuit, site),
        longest=longest,
        smallest=smallest,
        load=largest_load(circuit, site) if questions.largest else None,
        device=largest_device(circuit, site) if questions.largest else None,
    )


def _complete(asked: Asked, questions: Questions) -> None:
    if asked.size is None and not questions.smallest:
        expected = "the size of the line conductor in mm2"
        raise FieldError("--size", NOTHING, expected, remedy="Or ask --smallest.")
    if asked.length is None and not questions.longest:
        expected = "the length of the cable in m"
        raise FieldError("--length", NOTHING, expected, remedy="Or ask --longest.")
    if asked.size is None and asked.length is None:
        expected = "a length or a size: each is asked for the other"
        raise FieldError("--length", NOTHING, expected)
    if asked.power is not None and asked.current is not None:
        raise FieldError("--current", asked.current, "power or current, not both")


def _filled(asked: Asked) -> Asked:
    """Return what was asked with something in the place of what is to be found."""
    return replace(asked, length=asked.length or _SHORT_M, size=asked.size or _ANY_MM2)


def _of_size(circuit: Circuit, found: SmallestCable, site: Site) -> Circuit:
    """Return the circuit in the size found, or in the largest there is, which does not do."""
    largest = sizes(site.edition, circuit)[-1]
    line_mm2, cpc_mm2 = found.line_mm2 or largest[0], found.cpc_mm2 or largest[1]
    return with_cable(circuit, {"line_mm2": line_mm2, "cpc_mm2": cpc_mm2})
