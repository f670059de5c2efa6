"""Homes drawn at random, the same for the same seed: any enclosure, supply, division and scheme."""

from __future__ import annotations

import random
from dataclasses import dataclass

from boardwright.board.arrange import arrange
from boardwright.board.as_found import found_enclosure
from boardwright.board.offer import is_split
from boardwright.board.plan import plan_board
from boardwright.board.results import Arrangement, Scheme
from boardwright.circuits.plan import plan_circuits
from boardwright.job.board import ExistingBoard, ExistingDevice
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.spd.need import surge_need
from boardwright.spd.results import SpdChoice
from boardwright.spd.select import choose_spd, take
from boardwright.spd.site import SpdSite
from boardwright.wiring.results import Wiring
from boardwright.wiring.wire import wire
from tests.board.boards import catalogue
from tests.board.homes import edition, home

_ONE_PHASE = ("cottage", "flat", "semi")


@dataclass(frozen=True)
class Drawn:
    """A home as drawn, its board arranged and wired."""

    job: Job
    spd: SpdChoice
    arrangement: Arrangement
    wiring: Wiring


def drawn_home(seed: int) -> Drawn:
    """Return a home whose board is arranged and wired; what has no place is left out."""
    draw = random.Random(seed)
    phases = draw.choice((1, 1, 1, 3))
    job = _job(draw, phases)
    scheme = draw.choice((Scheme.NEW_BOARD, Scheme.NEW_BOARD, Scheme.SPARE_WAYS))
    if scheme is Scheme.SPARE_WAYS:
        job = _as_found(draw, job)
    kind = draw.choice([e for e in catalogue().enclosures.values() if e.phases == phases])
    division = "split load" if is_split(kind) else "RCBO on every way"
    job = job.model_copy(update={"wishes": job.wishes.model_copy(update={"division": division})})
    if kind.purpose == "SPD box":
        scheme = Scheme.SEPARATE_BOX
    elif scheme is Scheme.SPARE_WAYS and job.existing_board:
        kind = found_enclosure(job.existing_board, phases, catalogue()) or kind
    plan = plan_circuits(job, catalogue(), edition())
    spd = _spd(draw, job, kind.family)
    board = plan_board(scheme, kind, job, plan, spd, catalogue())
    arrangement = arrange(board, job.wishes)
    return Drawn(job, spd, arrangement, wire(arrangement, job, spd, edition()))


def _job(draw: random.Random, phases: int) -> Job:
    base = home("three-phase" if phases == 3 else draw.choice(_ONE_PHASE))
    shelf = [c for name in _ONE_PHASE for c in home(name).circuits] if phases == 1 else []
    pool = [*base.circuits, *shelf]
    circuits = tuple(
        _circuit(draw, draw.choice(pool), number) for number in range(draw.randint(1, 14))
    )
    system = draw.choice(("TN-S", "TN-C-S", "TT"))
    wishes = base.wishes.model_copy(
        update={
            "keep_apart": (), "keep_together": (), "ways": {}, "hand": "either",
            "separate_box_lead_m": draw.choice((None, 0.2, 0.9)),
        }
    )  # fmt: skip
    tails = base.supply.tails.model_copy(update={"csa_mm2": draw.choice((16.0, 25.0))})
    supply = base.supply.model_copy(update={"system": system, "tails": tails, "submain": None})
    return base.model_copy(
        update={"circuits": circuits, "wishes": wishes, "supply": supply, "existing_board": None}
    )


def _circuit(draw: random.Random, circuit: Circuit, number: int) -> Circuit:
    ring = circuit.serves == "sockets" and draw.random() < 0.5
    return circuit.model_copy(
        update={
            "id": f"c{number}",
            "way": None,
            "topology": "ring" if ring else "radial",
            "phase": draw.choice(("L1", "L2", "L3")) if circuit.phase else circuit.phase,
            "existing": draw.random() < 0.6,
        }
    )


def _as_found(draw: random.Random, job: Job) -> Job:
    """Return the job with a board as found: some of its circuits on ways of it."""
    kinds = [
        e for e in catalogue().enclosures.values()
        if e.phases == job.supply.phases and e.purpose == "consumer unit"
        and not any(bar.section for bar in e.bars) and len(e.rails) == 1 and e.phases == 1
    ]  # fmt: skip
    if not kinds:
        return job
    kind = draw.choice(kinds)
    ways = kind.modules - 2
    free = draw.sample(range(1, ways + 1), ways)
    circuits, devices = [], []
    for circuit in job.circuits:
        stays = circuit.existing and len(free) > 4
        devices += [_device(draw, free.pop(), circuit.id)] if stays else []
        circuits.append(circuit.model_copy(update={"existing": stays}))
    found = ExistingBoard.model_validate(
        {
            "family": kind.family, "ways": ways, "hand": kind.hand, "devices": tuple(devices),
            "combustible": "yes" if kind.combustible else "no",
        }
    )  # fmt: skip
    return job.model_copy(update={"existing_board": found, "circuits": tuple(circuits)})


def _device(draw: random.Random, way: int, circuit: str) -> ExistingDevice:
    kind = draw.choice(("MCB", "RCBO"))
    more = {"idn_a": 0.03, "rcd_type": "A"} if kind == "RCBO" else {}
    given = {"way": way, "kind": kind, "in_a": draw.choice((6, 16, 32)), "curve": "B"}
    return ExistingDevice.model_validate({**given, "circuit": circuit, **more})


def _spd(draw: random.Random, job: Job, family: str) -> SpdChoice:
    """Return one of the SPDs that suit, with its back-up whatever it is."""
    site = SpdSite(
        system=job.supply.system, phases=job.supply.phases, u0_v=230.0, cutout_fuse_a=80.0,
        ipf_a=2000.0, family=family, ahead_of_rcd=True, rcd_delayed=False, modules_free=None,
        wanted="",
    )  # fmt: skip
    choice = choose_spd(site, surge_need(job, edition()), catalogue(), edition())
    suitable = [c for c in choice.candidates if c.suitable]
    if not suitable or not choice.candidate:
        return choice
    return take(choice, draw.choice(suitable), edition(), wanted="")
