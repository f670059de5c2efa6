"""The element kinds of a surge network, between nodes named (place, conductor)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal, NamedTuple

from pydantic import ConfigDict, Field

from boardwright.core.errors import FieldError
from boardwright.surge.curves import VaristorCurve
from boardwright.surge.sizes import need_size
from boardwright.surge.waveforms import STRICT, CurrentWave, GeneratorCircuit, VoltageWave

Matrix = tuple[tuple[float, ...], ...]

# Inductances whose modes differ by more than this are one, but for rounding.
_SINGULAR_RATIO = 1e-12


class Node(NamedTuple):
    """A point of the network: a place in the home and a conductor there."""

    place: str
    conductor: str

    def __str__(self) -> str:
        return f"{self.place}:{self.conductor}"


def _need(owner: str, field: str, value: float, *, least: float, strict: bool) -> None:
    path, good = f"{owner}.{field}", value > least if strict else value >= least
    if not (good and math.isfinite(value)):
        raise FieldError(path, value, f"a number {'over' if strict else 'of at least'} {least:g}")
    need_size(path, value, nought="" if strict else "0 or ")


def _need_apart(owner: str, a: Node, b: Node) -> None:
    if a == b:
        raise FieldError(f"{owner}.b", str(b), f"another node than {a}")


@dataclass(frozen=True, slots=True)
class Branch:
    """A resistance and an inductance in series, from a to b."""

    name: str
    a: Node
    b: Node
    r_ohm: float
    l_h: float
    kind: Literal["branch"] = "branch"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        _need_apart(self.name, self.a, self.b)
        _need(self.name, "r_ohm", self.r_ohm, least=0, strict=False)
        _need(self.name, "l_h", self.l_h, least=0, strict=False)
        if self.r_ohm == self.l_h == 0:
            raise FieldError(
                f"{self.name}.r_ohm",
                0,
                "a resistance or an inductance over 0",
                remedy="Join its two nodes instead: a branch of nothing carries any current.",
            )


@dataclass(frozen=True, slots=True)
class CoupledBranches:
    """Branches side by side whose fields link, such as the tails.

    ``l_h`` holds the partial self-inductances on its diagonal and the mutual
    ones beside it.
    """

    name: str
    near: tuple[Node, ...]
    far: tuple[Node, ...]
    r_ohm: tuple[float, ...]
    l_h: Matrix
    kind: Literal["coupled branches"] = "coupled branches"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        count = len(self.near)
        if not (count and len(self.far) == len(self.r_ohm) == len(self.l_h) == count):
            raise FieldError(
                f"{self.name}.far",
                len(self.far),
                f"as many ends, r_ohm and l_h rows as near: {count}",
            )
        for a, b in zip(self.near, self.far, strict=True):
            _need_apart(self.name, a, b)
        for r_ohm in self.r_ohm:
            _need(self.name, "r_ohm", r_ohm, least=0, strict=False)
        _need_inductance(f"{self.name}.l_h", self.l_h)


@dataclass(frozen=True, slots=True)
class Capacitor:
    """A capacitance between a and b, charged to u0_v at the start."""

    name: str
    a: Node
    b: Node
    c_f: float
    u0_v: float = 0.0
    kind: Literal["capacitor"] = "capacitor"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        _need_apart(self.name, self.a, self.b)
        _need(self.name, "c_f", self.c_f, least=0, strict=True)
        need_size(f"{self.name}.u0_v", self.u0_v)


@dataclass(frozen=True, slots=True)
class Varistor:
    """A varistor from a to b; its capacitance is an element of its own."""

    name: str
    a: Node
    b: Node
    curve: Annotated[VaristorCurve, Field(discriminator="kind")]
    imax_8x20_a: float | None = None
    kind: Literal["varistor"] = "varistor"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        _need_apart(self.name, self.a, self.b)
        if self.imax_8x20_a is not None:
            _need(self.name, "imax_8x20_a", self.imax_8x20_a, least=0, strict=True)


@dataclass(frozen=True, slots=True)
class Gap:
    """A spark gap: open up to its sparkover voltage, then an arc until the end."""

    name: str
    a: Node
    b: Node
    sparkover_v: float
    arc_v: float
    arc_ohm: float
    kind: Literal["gap"] = "gap"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        _need_apart(self.name, self.a, self.b)
        _need(self.name, "arc_v", self.arc_v, least=0, strict=True)
        _need(self.name, "arc_ohm", self.arc_ohm, least=0, strict=True)
        _need(self.name, "sparkover_v", self.sparkover_v, least=self.arc_v, strict=True)


@dataclass(frozen=True, slots=True)
class Line:
    """A cable of one or more conductors, described for a travelling wave.

    ``l_h_per_m`` holds partial inductances of the conductors; ``c_f_per_m`` holds
    the capacitance between two conductors beside its diagonal, and on it that
    to the network's reference node.
    """

    name: str
    near: tuple[Node, ...]
    far: tuple[Node, ...]
    length_m: float
    r_ohm_per_m: float
    l_h_per_m: Matrix
    c_f_per_m: Matrix
    kind: Literal["line"] = "line"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        count = len(self.near)
        _need(self.name, "length_m", self.length_m, least=0, strict=True)
        _need(self.name, "r_ohm_per_m", self.r_ohm_per_m, least=0, strict=False)
        if not (count and len(self.far) == len(self.l_h_per_m) == len(self.c_f_per_m) == count):
            raise FieldError(
                f"{self.name}.far", len(self.far), f"as many ends and matrix rows as near: {count}"
            )
        _need_inductance(f"{self.name}.l_h_per_m", self.l_h_per_m)
        for row in self.c_f_per_m:
            if len(row) != count:
                raise FieldError(f"{self.name}.c_f_per_m", row, f"{count} numbers of at least 0")
            for value in row:
                _need(self.name, "c_f_per_m", value, least=0, strict=False)


@dataclass(frozen=True, slots=True)
class Generator:
    """A combination wave generator between plus and minus, charged to charge_v."""

    name: str
    plus: Node
    minus: Node
    circuit: GeneratorCircuit
    charge_v: float
    kind: Literal["generator"] = "generator"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        _need_apart(self.name, self.plus, self.minus)
        for field in ("cc_f", "rs1_ohm", "rm_ohm", "lr_h", "rs2_ohm"):
            _need(self.name, f"circuit.{field}", getattr(self.circuit, field), least=0, strict=True)
        need_size(f"{self.name}.charge_v", self.charge_v)


@dataclass(frozen=True, slots=True)
class CurrentSource:
    """An impulse current driven out of plus, whatever the network does."""

    name: str
    plus: Node
    minus: Node
    wave: Annotated[CurrentWave, Field(discriminator="kind")]
    kind: Literal["current source"] = "current source"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        _need_apart(self.name, self.plus, self.minus)


@dataclass(frozen=True, slots=True)
class VoltageSource:
    """A voltage between plus and minus behind a resistance."""

    name: str
    plus: Node
    minus: Node
    wave: Annotated[VoltageWave, Field(discriminator="kind")]
    r_ohm: float
    kind: Literal["voltage source"] = "voltage source"
    __pydantic_config__: ClassVar[ConfigDict] = STRICT

    def __post_init__(self) -> None:
        _need_apart(self.name, self.plus, self.minus)
        _need(self.name, "r_ohm", self.r_ohm, least=0, strict=True)


Source = CurrentSource | VoltageSource

Element = (
    Branch
    | CoupledBranches
    | Capacitor
    | Varistor
    | Gap
    | Line
    | Generator
    | CurrentSource
    | VoltageSource
)


def nodes_of(element: Element) -> tuple[Node, ...]:
    """Return the nodes an element touches."""
    if isinstance(element, Line | CoupledBranches):
        return element.near + element.far
    if isinstance(element, Generator | CurrentSource | VoltageSource):
        return (element.plus, element.minus)
    return (element.a, element.b)


def _need_inductance(path: str, l_h: Matrix) -> None:
    """Demand a symmetrical matrix that stores energy for any currents."""
    import numpy as np

    if any(len(row) != len(l_h) for row in l_h):
        raise FieldError(path, l_h, "a square table")
    for row in l_h:
        for value in row:
            need_size(path, value)
    matrix = np.array(l_h)
    if not np.allclose(matrix, matrix.T, rtol=1e-9, atol=0):
        raise FieldError(path, l_h, "a symmetrical table of numbers")
    values = np.linalg.eigvalsh(matrix)
    if values[0] <= _SINGULAR_RATIO * values[-1]:
        raise FieldError(
            path,
            l_h,
            "mutual inductances below the self-inductances",
            remedy="Check the spacing: conductors cannot be closer than they are thick.",
        )
