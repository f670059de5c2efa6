"""Turn a home's plain description into a surge network; nothing is decided here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.surge.assumptions import Assumptions
from boardwright.surge.curves import LogPoints, VaristorCurve, scaled_to_rating
from boardwright.surge.elements import (
    Branch,
    Capacitor,
    CoupledBranches,
    Element,
    Gap,
    Generator,
    Line,
    Matrix,
    Node,
    Varistor,
    VoltageSource,
)
from boardwright.surge.home import HomeSurge, SpdAsWired, SpdConnection, SurgeCircuit
from boardwright.surge.lead import mutual_h, straight_wire_h
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.waveforms import CombinationWave, SteadyVoltage

CONDUCTORS = ("L", "N", "PE")
LIVE_VARISTOR = "SPD line varistor"

# The surge is applied between line and earth at the origin, as in the standards'
# tests; every voltage is counted from the earth there.
REFERENCE = Node("origin", "PE")


def network_of(
    home: HomeSurge, wave: CombinationWave, assumed: Assumptions, *, mains_v: float | None = None
) -> SurgeNetwork:
    """Return the network of a home under a combination wave between line and earth.

    With ``mains_v`` the surge rides on the mains, which stands at that voltage. [V]
    """
    elements: list[Element] = [*_supply(home, wave, assumed, mains_v), *_intake(home, assumed)]
    if home.spd is not None:
        elements += _spd(home.spd, assumed, "board", "SPD")
    others = [circuit for circuit in home.circuits if circuit.appliance is None]
    for circuit in home.circuits:
        if circuit.appliance is not None:
            elements += _studied(circuit, assumed)
    if others:
        elements += _others(others, assumed)
    return SurgeNetwork(REFERENCE, tuple(elements))


def _supply(
    home: HomeSurge, wave: CombinationWave, assumed: Assumptions, mains_v: float | None
) -> Iterator[Element]:
    fixed, street, origin = assumed.fixed, Node("street", "L"), Node("origin", "L")
    length_m = assumed.typical("supply_length_m")
    charge_v = wave.circuit.charge_for_v(wave.open_crest_v)
    output = street if mains_v is None else Node("surge", "L")
    yield Generator("surge", output, REFERENCE, wave.circuit, charge_v)
    if mains_v is not None:
        yield from _mains(mains_v, output, street, assumed)
    yield Line(
        "supply cable",
        (street,),
        (origin,),
        length_m,
        fixed.cable_ohm_per_m,
        ((fixed.supply_z0_ohm / fixed.supply_velocity_m_per_s,),),
        ((1 / (fixed.supply_z0_ohm * fixed.supply_velocity_m_per_s),),),
    )
    bond = assumed.bonds[home.earthing]
    yield Branch("neutral to earth", Node("origin", "N"), REFERENCE, bond.r_ohm, bond.l_h)


def _mains(level_v: float, surge: Node, street: Node, assumed: Assumptions) -> Iterator[Element]:
    """Yield the mains as a surge test couples it: a coil keeps the surge from its source."""
    mains, source = assumed.mains, Node("mains", "L")
    wave = SteadyVoltage(level_v)
    yield VoltageSource("mains", source, REFERENCE, wave, mains.decoupling_ohm)
    yield Branch("decoupling", source, street, mains.decoupling_ohm, mains.decoupling_h)
    yield Capacitor("coupling", surge, street, mains.coupling_f)


def _intake(home: HomeSurge, assumed: Assumptions) -> Iterator[Element]:
    fixed = assumed.fixed
    own_h = straight_wire_h(home.tails_m, home.tails_csa_mm2)
    shared_h = mutual_h(home.tails_m, fixed.tails_spacing_m)
    switched = tuple(Node("main switch", conductor) for conductor in ("L", "N"))
    yield CoupledBranches(
        "tails",
        (Node("origin", "L"), Node("origin", "N")),
        switched,
        (fixed.contact_ohm,) * 2,
        ((own_h, shared_h), (shared_h, own_h)),
    )
    for node in switched:
        board = Node("board", node.conductor)
        main_h = assumed.typical("main_switch_h")
        yield Branch(f"main switch {node.conductor}", node, board, fixed.contact_ohm, main_h)
    earth_h = straight_wire_h(home.earthing_conductor_m, home.earthing_conductor_csa_mm2)
    yield Branch("earthing conductor", REFERENCE, Node("board", "PE"), fixed.contact_ohm, earth_h)


def curve_of(spd: SpdAsWired, assumed: Assumptions) -> VaristorCurve:
    """Return the curve of an SPD: its published points, or the shape pinned to Uc and Up."""
    factor = assumed.typical("varistor_factor")
    if spd.points:
        return LogPoints(spd.points, factor)
    curve = scaled_to_rating(
        assumed.shape,
        shape_uc_v=assumed.shape_uc_v,
        uc_v=spd.uc_v,
        up_v=spd.up_v,
        in_8x20_a=spd.in_8x20_a,
    )
    return curve.times(factor)


@dataclass(frozen=True, slots=True)
class _Wire:
    """How the leads of an SPD are made and run."""

    csa_mm2: float
    factor: float
    contact_ohm: float
    shortest_m: float


def _spd(spd: SpdAsWired, assumed: Assumptions, at: str, name: str) -> list[Element]:
    """Return an SPD between the conductors of a place, with its leads; all is named after it."""
    tap, n_tap, pe_tap = (Node(name, conductor) for conductor in CONDUCTORS)
    fixed, joint = assumed.fixed, Node(at, "L")
    wire = _Wire(
        spd.lead_csa_mm2, assumed.typical("lead_factor"), fixed.contact_ohm, fixed.shortest_lead_m
    )
    elements: list[Element] = []
    if spd.backup_fitted:
        joint, backup_h = Node(f"{name} back-up", "L"), assumed.typical("backup_h")
        elements.append(
            Branch(f"{name} back-up", Node(at, "L"), joint, fixed.breaker_ohm, backup_h)
        )
    elements += [
        _lead(f"{name} line lead", (joint, tap), spd.lead_l_m, wire),
        _lead(f"{name} neutral lead", (Node(at, "N"), n_tap), spd.lead_n_m, wire),
        _lead(f"{name} earth lead", (pe_tap, Node(at, "PE")), spd.lead_pe_m, wire),
    ]
    curve, imax_a, c_f = curve_of(spd, assumed), spd.imax_8x20_a, fixed.varistor_f
    live, neutral = f"{name} line varistor", f"{name} neutral varistor"
    if spd.connection is SpdConnection.CT1:
        elements += _varistor(live, (tap, pe_tap), curve, imax_a, c_f)
        elements += _varistor(neutral, (n_tap, pe_tap), curve, imax_a, c_f)
    elif spd.npe_sparkover_v is not None:
        elements += _varistor(live, (tap, n_tap), curve, imax_a, c_f)
        elements += [
            Gap(f"{name} gap", n_tap, pe_tap, spd.npe_sparkover_v, fixed.arc_v, fixed.arc_ohm),
            Capacitor(f"{name} gap capacitance", n_tap, pe_tap, fixed.gap_f),
        ]
    return elements


def _lead(name: str, ends: tuple[Node, Node], length_m: float, wire: _Wire) -> Branch:
    # Leads count as straight wires without their neighbour's help: strapping them
    # together gains what lead_factor's low end says.
    length_m = max(length_m, wire.shortest_m)
    l_h = straight_wire_h(length_m, wire.csa_mm2) * wire.factor
    return Branch(name, *ends, wire.contact_ohm, l_h)


def _varistor(
    name: str, ends: tuple[Node, Node], curve: VaristorCurve, imax_a: float | None, c_f: float
) -> list[Element]:
    return [Varistor(name, *ends, curve, imax_a), Capacitor(f"{name} capacitance", *ends, c_f)]


def _cable(assumed: Assumptions, parallel: float) -> tuple[Matrix, Matrix]:
    """Return the tables of a three-core cable, or of several side by side."""
    fixed = assumed.fixed
    # Any two cores make a line of Z0; the partial values share a common part
    # that no current sees, since the three currents of a radial cable add to zero.
    loop = fixed.cable_z0_ohm / fixed.cable_velocity_m_per_s / parallel
    own, mutual = 1.5 * loop, 1.0 * loop
    slowness = 1 / fixed.cable_velocity_m_per_s**2
    # All three cores at once see the earthed work around them; where that is, is not
    # known, so this wave is given the others' speed. It reaches no equipment.
    earth = slowness / (own + 2 * mutual)
    # A difference of two cores has three of the pairs' capacitances and the earth's one.
    pair = (slowness / (own - mutual) - earth) / 3
    l_h = tuple(tuple(own if row == col else mutual for col in range(3)) for row in range(3))
    c_f = tuple(tuple(earth if row == col else pair for col in range(3)) for row in range(3))
    return l_h, c_f


def _circuit(
    name: str, cable_m: float, parallel: float, assumed: Assumptions
) -> tuple[list[Element], tuple[Node, ...]]:
    fixed = assumed.fixed
    start = Node(f"{name} breaker", "L")
    near = (start, Node("board", "N"), Node("board", "PE"))
    far = tuple(Node(name, conductor) for conductor in CONDUCTORS)
    l_h, c_f = _cable(assumed, parallel)
    breaker = Branch(
        f"{name} breaker",
        Node("board", "L"),
        start,
        fixed.breaker_ohm / parallel,
        fixed.breaker_h / parallel,
    )
    cable = Line(f"{name} cable", near, far, cable_m, fixed.cable_ohm_per_m / parallel, l_h, c_f)
    return [breaker, cable], far


def _studied(circuit: SurgeCircuit, assumed: Assumptions) -> list[Element]:
    appliance = circuit.appliance
    if appliance is None:
        return []
    elements, (line, neutral, earth) = _circuit(circuit.name, circuit.cable_m, 1.0, assumed)
    factor, y_f = assumed.typical("appliance_factor"), assumed.fixed.appliance_y_f
    if circuit.second is not None:
        elements += _spd(circuit.second, assumed, circuit.name, f"{circuit.name} SPD")
    return [
        *elements,
        Branch(f"{circuit.name} load", line, neutral, appliance.resistance_ohm, 0.0),
        Capacitor(f"{circuit.name} filter", line, neutral, appliance.capacitance_f * factor),
        Capacitor(f"{circuit.name} line to earth", line, earth, y_f),
        Capacitor(f"{circuit.name} neutral to earth", neutral, earth, y_f),
    ]


def _others(circuits: list[SurgeCircuit], assumed: Assumptions) -> list[Element]:
    """Return all circuits that are not studied as one, of their mean length."""
    count = len(circuits) * assumed.typical("others_share")
    mean_m = sum(circuit.cable_m for circuit in circuits) / len(circuits)
    elements, (line, neutral, _) = _circuit("other circuits", mean_m, count, assumed)
    fixed = assumed.fixed
    return [
        *elements,
        Branch("other loads", line, neutral, fixed.other_load_ohm / count, 0.0),
        Capacitor("other filters", line, neutral, fixed.other_load_f * count),
    ]
