"""Write a surge network as a netlist for ngspice, from the very network the solver reads.

Numbered nodes, 0 the reference; a comment line names each. The dialect is ngspice's own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.surge.curves import CURVE_TOP_A, LINEAR_BELOW_A, LogPoints, VaristorCurve
from boardwright.surge.elements import (
    Branch,
    Capacitor,
    CoupledBranches,
    CurrentSource,
    Element,
    Gap,
    Line,
    Node,
    Varistor,
    VoltageSource,
)
from boardwright.surge.modes import modes_of
from boardwright.surge.network import SurgeNetwork
from boardwright.surge.parts import parted
from boardwright.surge.spice_waves import wave_text
from boardwright.surge.waveforms import Array

# Each mode of a line stands as a line of this impedance, between coupled sources.
_MODE_OHM = 100.0
_CURVE_POINTS = 400


@dataclass(frozen=True, slots=True)
class SpiceRun:
    """How ngspice is to step: to an end, at most so far at once, and how exactly."""

    t_end_s: float
    longest_step_s: float
    tolerance_ratio: float = 1e-3


def netlist(network: SurgeNetwork, run: SpiceRun, watched: tuple[Node, ...] = ()) -> str:
    """Return the netlist of a network; ``watched`` nodes are saved, or all if none is named."""
    parts = parted(network, lump_below_s=0.0)
    number = {node: at for at, node in enumerate(parts.nodes, start=1)}
    number[parts.reference] = 0
    lines = ["* surge network; node 0 is " + str(parts.reference)]
    lines += [f"* node {at} is {node}" for node, at in number.items() if at]
    writer = _Writer(number)
    for element in parts.elements:
        lines += writer.element(element)
    saved = watched or tuple(node for node in network.nodes)
    lines.append(".save " + " ".join(f"v({number[node]})" for node in saved if number[node]))
    lines += [
        # A bound on the step, because the cables' echoes are finer than the tolerance sees.
        f".options reltol={run.tolerance_ratio:g} method=trap",
        f".tran {run.longest_step_s:.9g} {run.t_end_s:.9g} 0 {run.longest_step_s:.9g} uic",
        ".end",
    ]
    return "\n".join(lines) + "\n"


def node_number(network: SurgeNetwork, node: Node) -> int:
    """Return the number a node has in the netlist."""
    parts = parted(network, lump_below_s=0.0)
    return 0 if node == parts.reference else parts.nodes.index(node) + 1


class _Writer:
    """Writes one element after another, with nodes and names of its own in between."""

    def __init__(self, number: dict[Node, int]) -> None:
        self._number = number
        self._count = 0

    def element(self, element: Element) -> Iterator[str]:
        """Yield the lines of one element."""
        self._count += 1
        yield f"* {element.name}"
        match element:
            case Branch():
                yield from self._branch(element, self._count)
            case CoupledBranches():
                yield from self._coupled(element)
            case Capacitor():
                ends = self._ends(element.a, element.b)
                yield f"C{self._count} {ends} {element.c_f:.9g} ic={element.u0_v:.9g}"
            case Varistor():
                ends = self._ends(element.a, element.b)
                yield f"B{self._count} {ends} I={_curve_text(element.curve, self._volts(element))}"
            case Gap():
                yield from self._gap(element)
            case Line():
                yield from self._line(element)
            case CurrentSource():
                # A source of ngspice drives its current from its first node through itself.
                ends = self._ends(element.minus, element.plus)
                yield f"B{self._count} {ends} I={wave_text(element.wave)}"
            case VoltageSource():
                yield from self._voltage(element)

    def _ends(self, a: Node, b: Node) -> str:
        return f"{self._number[a]} {self._number[b]}"

    def _volts(self, element: Varistor | Gap) -> str:
        return f"v({self._number[element.a]},{self._number[element.b]})"

    def _branch(self, branch: Branch, name: object) -> Iterator[str]:
        a, b = self._number[branch.a], self._number[branch.b]
        if branch.l_h == 0:
            yield f"R{name} {a} {b} {branch.r_ohm:.9g}"
        elif branch.r_ohm == 0:
            yield f"L{name} {a} {b} {branch.l_h:.9g} ic=0"
        else:
            yield f"R{name} {a} i{name} {branch.r_ohm:.9g}"
            yield f"L{name} i{name} {b} {branch.l_h:.9g} ic=0"

    def _coupled(self, pair: CoupledBranches) -> Iterator[str]:
        count, size = self._count, len(pair.near)
        for at in range(size):
            one = Branch(pair.name, pair.near[at], pair.far[at], pair.r_ohm[at], pair.l_h[at][at])
            yield from self._branch(one, f"{count}x{at}")
        for row in range(size):
            for column in range(row):
                own_h = (pair.l_h[row][row] * pair.l_h[column][column]) ** 0.5
                ratio = pair.l_h[row][column] / own_h
                if ratio:
                    yield f"K{count}x{row}x{column} L{count}x{row} L{count}x{column} {ratio:.12g}"

    def _gap(self, gap: Gap) -> Iterator[str]:
        name, middle_v = self._count, gap.sparkover_v / 2
        a, b = self._number[gap.a], self._number[gap.b]
        # The switch closes at sparkover and never opens: its lower threshold is negative.
        yield f"Bv{name} v{name} 0 V=abs({self._volts(gap)})"
        yield f"S{name} {a} s{name} v{name} 0 gap{name} off"
        yield (
            f".model gap{name} sw vt={middle_v - 1:.9g} vh={middle_v + 1:.9g}"
            f" ron={gap.arc_ohm:.9g} roff=1e9"
        )
        yield f"Vs{name} s{name} t{name} 0"
        yield f"B{name} t{name} {b} V={gap.arc_v:.9g}*i(Vs{name})/(abs(i(Vs{name}))+1)"

    def _voltage(self, source: VoltageSource) -> Iterator[str]:
        name = self._count
        plus, minus = self._number[source.plus], self._number[source.minus]
        yield f"R{name} {plus} i{name} {source.r_ohm:.9g}"
        yield f"B{name} i{name} {minus} V={wave_text(source.wave)}"

    def _line(self, line: Line) -> Iterator[str]:
        waves, bare = modes_of(line)
        for at, mode in enumerate(waves):
            name = f"{self._count}x{at}"
            factors = mode.share * _MODE_OHM**0.5
            near = self._mode(f"{name}n", line.near, factors)
            far = self._mode(f"{name}f", line.far, factors)
            yield from (*near, *far)
            ends = f"m{name}n 0 m{name}f 0"
            # Without rel=2, echoes of nearly equal delays set break points so close together
            # that ngspice steps no further, or gives up and still exits with 0.
            yield f"T{name} {ends} Z0={_MODE_OHM:.9g} TD={mode.delay_s:.12g} rel=2 ic=0,0,0,0"
        for at, still in enumerate(bare):
            name = f"{self._count}y{at}"
            yield from self._mode(f"{name}n", line.near, still.share)
            yield from self._mode(f"{name}f", line.far, still.share)
            yield f"L{name} m{name}n m{name}f {still.l_h:.12g} ic=0"

    def _mode(self, name: str, nodes: tuple[Node, ...], factors: Array) -> Iterator[str]:
        """Yield the sources that make a mode's voltage and hand its current back."""
        numbers = [self._number[node] for node in nodes]
        real = [(at, float(f)) for at, f in zip(numbers, factors, strict=True) if at and f]
        below = "0"
        for at, (node, factor) in enumerate(real):
            yield f"E{name}x{at} e{name}x{at} {below} {node} 0 {factor:.12g}"
            yield f"F{name}x{at} {node} 0 V{name} {factor:.12g}"
            below = f"e{name}x{at}"
        yield f"V{name} {below} m{name} 0"


def _curve_text(curve: VaristorCurve, volts: str) -> str:
    """Return a varistor's current as a function of its voltage, straight below 1 µA."""
    pairs = _pairs(curve)
    (low_i, low_u), (high_i, high_u) = pairs[0], pairs[-1]
    if len(pairs) == 2:  # noqa: PLR2004  a power law
        slope = (high_i - low_i) / (high_u - low_u)
        law = f"exp({low_i:.12g}+{slope:.12g}*(ln(abs({volts})+1e-30)-({low_u:.12g})))"
    else:
        table = ",".join(f"{u:.12g},{i:.12g}" for i, u in pairs)
        law = f"exp(pwl(ln(abs({volts})+1e-30),{table}))"
    knee_v = curve.at_ln(_ln(LINEAR_BELOW_A))[0]
    return (
        f"abs({volts})<{knee_v:.12g} ? {volts}*{LINEAR_BELOW_A / knee_v:.12g} : sgn({volts})*{law}"
    )


def _pairs(curve: VaristorCurve) -> list[tuple[float, float]]:
    low, high = _ln(LINEAR_BELOW_A), _ln(CURVE_TOP_A)
    if isinstance(curve, LogPoints):
        bends = [] if len(curve.points) == 2 else [_ln(i_a) for i_a, _ in curve.points]  # noqa: PLR2004
        places = [low, *(x for x in bends if low < x < high), high]
    else:
        places = [low + (high - low) * at / _CURVE_POINTS for at in range(_CURVE_POINTS + 1)]
    return [(x, _ln(curve.at_ln(x)[0])) for x in places]


def _ln(value: float) -> float:
    import math

    return math.log(value)
