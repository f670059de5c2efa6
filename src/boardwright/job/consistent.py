"""What one field of a job says against another: contradictions that no reading can mend.

An installation that breaks a rule is a finding of a later stage, never an error here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from boardwright.job.paths import find
from boardwright.job.words import NOTHING, Said, nearest

if TYPE_CHECKING:
    from boardwright.job.job import Job
    from boardwright.job.paths import Loc

CONSIDERED_LINE_M = 1000.0
"""Lines are counted as far as 1 km in total, LV and HV together, before any weighting.

BS 7671:2018, 443.5, as a network operator's answers on risk assessment quote it.
"""


@dataclass(frozen=True, slots=True)
class Fault:
    """One contradiction: the place, what it says, what would agree."""

    loc: Loc
    found: object
    expected: str
    remedy: str = ""


def faults(job: Job) -> Iterator[Fault]:
    """Yield every contradiction of a job, in no promised order."""
    repeated = tuple(_ids(job))
    yield from repeated
    if not repeated:  # A path through an id that stands twice leads nowhere.
        yield from _assumed(job)
    yield from _named_circuits(job)
    yield from _ways(job)
    yield from _devices(job)
    yield from _fed_ways(job)
    yield from _phases(job)
    yield from _places(job)
    yield from _wishes(job)


def _ids(job: Job) -> Iterator[Fault]:
    circuits = [(("circuits", i, "id"), c.id) for i, c in enumerate(job.circuits)]
    appliances = [
        (("circuits", i, "appliances", k, "id"), appliance.id)
        for i, circuit in enumerate(job.circuits)
        for k, appliance in enumerate(circuit.appliances)
    ]
    for loc, name in [*_repeated(circuits), *_repeated(appliances)]:
        yield Fault(loc, name, "an id that nothing else of its kind has", "Give it one of its own.")


def _repeated(named: Iterable[tuple[Loc, str]]) -> Iterator[tuple[Loc, str]]:
    seen: set[str] = set()
    for loc, name in named:
        if name in seen:
            yield loc, name
        seen.add(name)


def _named_circuits(job: Job) -> Iterator[Fault]:
    known = [circuit.id for circuit in job.circuits]
    for loc, name in _circuit_names(job):
        if name not in known:
            yield Fault(loc, name, "the id of a circuit", nearest(name, known))
    for i, circuit in enumerate(job.circuits):
        if circuit.readings.shares_neutral_with == circuit.id:
            loc = ("circuits", i, "readings", "shares_neutral_with")
            yield Fault(loc, circuit.id, "the id of another circuit")


def _circuit_names(job: Job) -> Iterator[tuple[Loc, str]]:
    for i, circuit in enumerate(job.circuits):
        if circuit.readings.shares_neutral_with:
            loc = ("circuits", i, "readings", "shares_neutral_with")
            yield loc, circuit.readings.shares_neutral_with
    for i, device in enumerate(job.existing_board.devices if job.existing_board else ()):
        if device.circuit:
            yield ("existing_board", "devices", i, "circuit"), device.circuit
    for key in ("keep_together", "keep_apart"):
        for i, group in enumerate(getattr(job.wishes, key)):
            for k, name in enumerate(group):
                yield ("wishes", key, i, k), name


def _ways(job: Job) -> Iterator[Fault]:
    board = job.existing_board
    taken: dict[int, str] = {}
    for i, circuit in enumerate(job.circuits):
        if circuit.way is None:
            continue
        loc = ("circuits", i, "way")
        if board and circuit.way > board.ways:
            yield Fault(loc, circuit.way, f"a way from 1 to {board.ways}, as the board found has")
        if circuit.way in taken:
            yield Fault(
                loc,
                circuit.way,
                f"a way of its own: {taken[circuit.way]!r} is on way {circuit.way}",
                "If two circuits share one device, survey them as one circuit.",
            )
        taken.setdefault(circuit.way, circuit.id)


def _devices(job: Job) -> Iterator[Fault]:
    board = job.existing_board
    taken: dict[int, str] = {}
    for i, device in enumerate(board.devices if board else ()):
        # Ways are counted from the main switch's neighbour: the switch itself stands on none.
        if board is None or device.kind == "main switch":
            continue
        loc = ("existing_board", "devices", i, "way")
        ways = range(device.way, device.way + device.modules)
        if ways[-1] > board.ways:
            yield Fault(loc, _span(ways), f"ways from 1 to {board.ways}, as the board has")
        clash = next((way for way in ways if way in taken), None)
        if clash is not None:
            yield Fault(loc, _span(ways), f"ways of its own: way {clash} holds {taken[clash]}")
        taken.update(dict.fromkeys(ways, f"the {device.kind} that starts at way {device.way}"))


def _fed_ways(job: Job) -> Iterator[Fault]:
    """Yield what cannot be of the ways behind an RCCB: each is some device's, and behind one."""
    board = job.existing_board
    fed: dict[int, int] = {}
    for i, device in enumerate(board.devices if board else ()):
        if device.feeds and device.kind != "RCCB":
            loc: Loc = ("existing_board", "devices", i, "feeds")
            yield Fault(loc, Said(_listed(device.feeds)), f"none: a {device.kind} is no RCCB")
            continue
        there = {d.way for d in board.devices if d is not device} if board else set()
        for k, way in enumerate(device.feeds):
            loc = ("existing_board", "devices", i, "feeds", k)
            if way not in there:
                yield Fault(loc, way, "the first way of another device on the board")
            elif way in fed:
                yield Fault(loc, way, f"a way behind no other RCCB: way {fed[way]} feeds it")
            fed.setdefault(way, device.way)


def _listed(ways: tuple[int, ...]) -> str:
    return ", ".join(str(way) for way in ways)


def _span(ways: range) -> Said:
    return Said(f"way {ways[0]}" if len(ways) == 1 else f"ways {ways[0]} to {ways[-1]}")


def _phases(job: Job) -> Iterator[Fault]:
    if job.supply.phases != 1:
        return
    remedy = "If the supply has three phases, write supply.phases: 3."
    for i, circuit in enumerate(job.circuits):
        if circuit.phases != 1:
            expected = "1, as the supply has one phase"
            yield Fault(("circuits", i, "phases"), circuit.phases, expected, remedy)
        if circuit.phase not in {None, "L1"}:
            expected = "L1 or nothing, as the supply has one phase"
            yield Fault(("circuits", i, "phase"), circuit.phase, expected, remedy)


def _places(job: Job) -> Iterator[Fault]:
    for i, circuit in enumerate(job.circuits):
        length_m = circuit.cable.length_m
        for k, appliance in enumerate(circuit.appliances):
            if appliance.position_m is not None and appliance.position_m > length_m:
                yield Fault(
                    ("circuits", i, "appliances", k, "position_m"),
                    appliance.position_m,
                    f"a place along the cable, at most its length of {length_m:g} m",
                )
        yield from _served(i, job)
    yield from _lines(job)


def _served(i: int, job: Job) -> Iterator[Fault]:
    circuit = job.circuits[i]
    if circuit.ev and circuit.serves != "EV point":
        yield Fault(
            ("circuits", i, "ev"),
            Said(f"an EV point on a circuit that serves {circuit.serves!r}"),
            "serves: EV point",
        )
    if circuit.source and circuit.serves not in {"PV", "battery"}:
        yield Fault(
            ("circuits", i, "source"),
            Said(f"a source on a circuit that serves {circuit.serves!r}"),
            "serves: PV or serves: battery",
        )


def _lines(job: Job) -> Iterator[Fault]:
    around = job.surge_environment
    total_m = sum(
        length_m or 0.0
        for length_m in (
            around.lv_overhead_m,
            around.lv_underground_m,
            around.hv_overhead_m,
            around.hv_underground_m,
        )
    )
    if total_m > CONSIDERED_LINE_M:
        yield Fault(
            ("surge_environment",),
            Said(f"lines of {total_m:g} m in total"),
            f"at most {CONSIDERED_LINE_M:g} m, LV and HV together",
            "Count from the origin and stop at 1 km, or at the network's first surge protection.",
        )


def _wishes(job: Job) -> Iterator[Fault]:
    if job.wishes.board != "new" and job.existing_board is None:
        yield Fault(
            ("wishes", "board"),
            job.wishes.board,
            "'new', as there is no section 'existing_board'",
            "Survey the board as found, or wish for a new one.",
        )
    yield from _placed(job)
    if job.demand_logged_a is not None and not job.demand_logged_source:
        yield Fault(
            ("demand_logged_source",),
            NOTHING,
            "who logged demand_logged_a, how long and when",
            "Add it, or leave out demand_logged_a.",
        )


def _placed(job: Job) -> Iterator[Fault]:
    """Yield what is wrong with the ways that a person gave: whose they are, and two on one."""
    known = [*(circuit.id for circuit in job.circuits), "spd"]
    taken: dict[int, str] = {}
    for name, way in job.wishes.ways.items():
        if name not in known:
            yield Fault(
                ("wishes", "ways", name), name, "the id of a circuit, or spd", nearest(name, known)
            )
        if way in taken:
            expected = f"a way of its own: {taken[way]!r} is to stand on way {way}"
            yield Fault(("wishes", "ways", name), way, expected)
        taken.setdefault(way, name)


def _assumed(job: Job) -> Iterator[Fault]:
    if not job.assumed:
        return
    data = job.model_dump()
    for i, path in enumerate(job.assumed):
        if not find(path, data):
            yield Fault(
                ("assumed", i),
                path,
                "the dotted path of a field of this job, as circuits.shower.cable.length_m",
            )
