"""Small networks that several tests of the travelling-wave solver share."""

from __future__ import annotations

from boardwright.surge.curves import LogPoints, LogPolynomial
from boardwright.surge.elements import (
    Branch,
    Capacitor,
    CoupledBranches,
    CurrentSource,
    Element,
    Gap,
    Generator,
    Line,
    Node,
    Varistor,
    VoltageSource,
)
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.waveforms import (
    GENERATOR_A,
    GENERATOR_B,
    DampedSine8x20,
    Impulse1p2x50,
    Impulse8x20,
    RingWave,
    StepVoltage,
    subsequent_stroke_0p25x100,
)

EARTH, STREET, BUS, TAP, FAR = (Node(p, "L") for p in ("earth", "street", "bus", "tap", "far"))
BLOCK_40 = LogPolynomial(2.7103342, 0.0229461, -0.0004008, 0.0036353)
POWER_31 = LogPoints(((1e-3, 430.0), (1e3, 430.0 * 1e6 ** (1 / 31))))
BENT = LogPoints(((1e-3, 430.0), (1.0, 520.0), (1e3, 720.0), (10e3, 1100.0)))
Z0_OHM, SPEED_M_PER_S = 100.0, 180e6


def net(*elements: Element) -> SurgeNetwork:
    return SurgeNetwork(EARTH, elements)


def generator(crest_v: float = 6000.0, at: Node = BUS) -> Generator:
    return Generator("surge", at, EARTH, GENERATOR_A, GENERATOR_A.charge_for_v(1.0) * crest_v)


def single(name: str, near: Node, far: Node, length_m: float, z0_ohm: float = Z0_OHM) -> Line:
    l_h, c_f = z0_ohm / SPEED_M_PER_S, 1 / (z0_ohm * SPEED_M_PER_S)
    return Line(name, (near,), (far,), length_m, 0.0, ((l_h,),), ((c_f,),))


def spd(name: str = "SPD", *, imax_a: float | None = None) -> tuple[Element, ...]:
    return (
        Branch(f"{name} lead", BUS, TAP, 5e-3, 0.5e-6),
        Varistor(name, TAP, EARTH, BLOCK_40, imax_a),
        Capacitor(f"{name} own", TAP, EARTH, 2.7e-9),
    )


def cores(length_m: float, *, to_earth: bool, r_ohm_per_m: float = 0.0) -> Line:
    """Three cores, alone in space or with an earth around them."""
    loop = Z0_OHM / SPEED_M_PER_S
    earth = 1 / (3.5 * loop * SPEED_M_PER_S**2) if to_earth else 0.0
    pair = (1 / (0.5 * loop * SPEED_M_PER_S**2) - earth) / 3
    near = (BUS, Node("bus", "N"), Node("bus", "PE"))
    far = tuple(Node("far", name) for name in ("L", "N", "PE"))
    return Line(
        "cable",
        near,
        far,
        length_m,
        r_ohm_per_m,
        tuple(tuple(1.5 * loop if a == b else loop for b in range(3)) for a in range(3)),
        tuple(tuple(earth if a == b else pair for b in range(3)) for a in range(3)),
    )


def three_core_home(*, to_earth: bool, second: bool = False) -> SurgeNetwork:
    """Return a board, its SPD, one three-core circuit; ``second`` adds a varistor to neutral."""
    far = {name: Node("far", name) for name in ("L", "N", "PE")}
    neutral, earth = Node("bus", "N"), Node("bus", "PE")
    more = (
        Varistor("second", neutral, EARTH, POWER_31),
        Capacitor("second own", neutral, EARTH, 2.7e-9),
    )
    return net(
        generator(),
        *spd(),
        Branch("bond", neutral, EARTH, 2.0 if second else 0.05, 1e-6),
        Branch("earthing", earth, EARTH, 1e-3, 1e-6),
        *(more if second else ()),
        Capacitor("stray N", neutral, EARTH, 1e-9),
        Capacitor("stray PE", earth, EARTH, 1e-9),
        cores(15.0, to_earth=to_earth, r_ohm_per_m=0.02),
        Capacitor("filter", far["L"], far["N"], 10e-9),
        Branch("load", far["L"], far["N"], 1000.0, 0.0),
        Capacitor("y L", far["L"], far["PE"], 2.2e-9),
        Capacitor("y N", far["N"], far["PE"], 2.2e-9),
    )


def netlists() -> dict[str, SurgeNetwork]:
    """One network for each thing that ngspice is asked about."""
    end = (Capacitor("filter", FAR, EARTH, 10e-9), Branch("load", FAR, EARTH, 1000.0, 0.0))
    pair = CoupledBranches("pair", (BUS, TAP), (TAP, FAR), (0.5, 0.5), ((2e-6, 1e-6), (1e-6, 3e-6)))
    charge_v = GENERATOR_B.charge_for_v(6000.0)
    return {
        "open generator": net(generator()),
        "generator B into a coil": net(
            Generator("surge", BUS, EARTH, GENERATOR_B, charge_v),
            Branch("coil", BUS, EARTH, 0.1, 2e-6),
        ),
        "varistor behind its lead": net(generator(), *spd()),
        "power law": net(
            generator(),
            Branch("lead", BUS, TAP, 5e-3, 1e-6),
            Varistor("SPD", TAP, EARTH, POWER_31),
            Capacitor("own", TAP, EARTH, 3e-9),
        ),
        "points with bends": net(
            generator(20e3),
            Branch("lead", BUS, TAP, 5e-3, 1e-6),
            Varistor("SPD", TAP, EARTH, BENT),
            Capacitor("own", TAP, EARTH, 3e-9),
        ),
        "coupled branches": net(
            Capacitor("c", BUS, EARTH, 1e-6, 100.0), pair, Branch("r", FAR, EARTH, 0.2, 0.0)
        ),
        "line and filter": net(generator(), *spd(), single("cable", BUS, FAR, 10.0), *end),
        "line with losses": net(
            generator(),
            *spd(),
            Line(
                "cable",
                (BUS,),
                (FAR,),
                30.0,
                0.05,
                ((Z0_OHM / SPEED_M_PER_S,),),
                ((1 / (Z0_OHM * SPEED_M_PER_S),),),
            ),
            *end,
        ),
        "three cores and earth": three_core_home(to_earth=True),
        "gap": net(
            generator(),
            Branch("lead", BUS, TAP, 0.5, 0.5e-6),
            Gap("gap", TAP, EARTH, 1500.0, 25.0, 5e-3),
            Capacitor("own", TAP, EARTH, 1e-9),
            Branch("damp", TAP, EARTH, 200.0, 0.0),
        ),
        "8/20 current": net(
            CurrentSource("stroke", BUS, EARTH, Impulse8x20(3000.0)),
            Branch("load", BUS, EARTH, 2.0, 1e-6),
            Branch("aside", BUS, EARTH, 50.0, 0.0),
        ),
        "damped sine and subsequent stroke": net(
            CurrentSource("sine", BUS, EARTH, DampedSine8x20(3000.0)),
            CurrentSource("stroke", BUS, EARTH, subsequent_stroke_0p25x100(500.0)),
            Branch("load", BUS, EARTH, 2.0, 1e-6),
            Branch("aside", BUS, EARTH, 50.0, 0.0),
        ),
        "1.2/50 voltage and ring wave": net(
            VoltageSource("impulse", BUS, EARTH, Impulse1p2x50(4000.0), 2.0),
            VoltageSource("ring", FAR, EARTH, RingWave(3000.0), 12.0),
            single("cable", BUS, FAR, 20.0),
            *end,
        ),
        "lattice": net(
            VoltageSource("step", BUS, EARTH, StepVoltage(100.0), 25.0),
            single("cable", BUS, FAR, 20.0),
            Branch("end", FAR, EARTH, 400.0, 0.0),
        ),
    }
