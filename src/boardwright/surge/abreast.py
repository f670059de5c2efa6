"""Eight legs in one register: what the compiler does not find by itself, spelt out for it.

A row holds parts of eight figures each, one for a leg; each function here works on whole
parts. ``legs.py`` says what the parts are, ``kernel_legs.py`` what is done with them.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from itertools import pairwise
from typing import Any

from llvmlite import ir  # type: ignore[import-untyped]
from numba import types
from numba.core import cgutils
from numba.extending import intrinsic

from boardwright.surge.legs import (
    EFFECT,
    IN,
    INPUTS,
    LANES,
    OUT,
    OUTPUTS,
    PEAK,
    SEEN,
    SEEN_BEFORE,
    SENT,
    STORE,
    TAPS,
    TO_BUS,
    WITHIN,
)

# What stands for a value while code is written; the library that writes it has no types.
Code = Any

_WORD = ir.IntType(64)
_NUMBER = ir.DoubleType()
_PART = ir.VectorType(_NUMBER, LANES)
_PART_BYTES = 8 * LANES
_LOOSE = ("reassoc", "contract")


class _Row:
    """The parts of one row of an array."""

    def __init__(self, builder: Code, array: Code, line: Code) -> None:
        self._builder = builder
        first = builder.ptrtoint(array.data, _WORD)
        self._at = builder.add(first, builder.mul(builder.extract_value(array.strides, 0), line))

    def place(self, part: int, kind: Code = _PART, more: Code = None) -> Code:
        """Return where a part stands, or what lies some bytes further."""
        at = self._builder.add(self._at, ir.Constant(_WORD, part * _PART_BYTES))
        at = at if more is None else self._builder.add(at, more)
        return self._builder.inttoptr(at, kind.as_pointer())

    def __getitem__(self, part: int) -> Code:
        return self._builder.load(self.place(part), align=8)

    def __setitem__(self, part: int, value: Code) -> None:
        self._builder.store(value, self.place(part), align=8)


class _Scene:
    """The arguments of a function while its code is written."""

    def __init__(self, context: Code, builder: Code, kinds: Code, values: Code) -> None:
        self.builder = builder
        self.values = values
        self._context, self._kinds = context, kinds

    def row(self, array: int, line: int) -> _Row:
        """Return a row by the places of its array and of its line among the arguments."""
        made = self._context.make_array(self._kinds[array])
        return _Row(
            self.builder,
            made(self._context, self.builder, self.values[array]),
            self.values[line],
        )

    def sum_of(self, *pairs: tuple[Code, Code]) -> Code:
        """Return the sum of products."""
        first, *others = (self.builder.fmul(a, b, flags=_LOOSE) for a, b in pairs)
        for product in others:
            first = self.builder.fadd(first, product, flags=_LOOSE)
        return first

    def eight(self, number: Code) -> Code:
        """Return a part that holds one number eight times."""
        word, words = ir.IntType(32), ir.VectorType(ir.IntType(32), LANES)
        nothing = ir.Constant(_PART, ir.Undefined)
        one = self.builder.insert_element(nothing, number, ir.Constant(word, 0))
        return self.builder.shuffle_vector(one, one, ir.Constant(words, [0] * LANES))

    def call(self, name: str, gives: Code, *values: Code) -> Code:
        """Return what a function of the machine gives."""
        kind = ir.FunctionType(gives, [value.type for value in values])
        found: Code = cgutils.get_or_insert_function
        function = found(self.builder.module, kind, name)
        return self.builder.call(function, values, fastmath=_LOOSE)

    def size(self, part: Code) -> Code:
        """Return a part without its signs."""
        return self.call(f"llvm.fabs.v{LANES}f64", _PART, part)

    def chosen(self, a: Code, how: str, b: Code, then: tuple[Code, Code]) -> Code:
        """Return the first of ``then`` where the comparison holds, else the second."""
        return self.builder.select(self.builder.fcmp_ordered(how, a, b), *then)


def _function(gives: Code, body: Callable[[_Scene], Code]) -> Callable[..., Any]:
    """Return what compiled code may call: ``body`` writes it where it is called."""

    def typed(_context: Code, *kinds: Code) -> Code:
        def made(context: Code, builder: Code, signature: Code, values: Code) -> Code:
            found = body(_Scene(context, builder, signature.args, values))
            return context.get_dummy_value() if found is None else found

        return gives(*kinds), made

    # The compiler counts the arguments it sees named.
    context, _ = inspect.signature(typed).parameters.values()
    named = [context, *inspect.signature(gives).parameters.values()]
    vars(typed)["__signature__"] = inspect.Signature(named)
    written: Callable[..., Any] = intrinsic(typed)
    return written


def _arrive(scene: _Scene) -> None:
    rows, sent, back = scene.row(0, 1), scene.row(2, 3), scene.row(4, 1)
    wave = ir.Constant(_PART, ir.Undefined)
    for i in range(LANES):
        far = scene.builder.load(back.place(0, _WORD, ir.Constant(_WORD, 8 * i)))
        number = scene.builder.load(sent.place(0, _NUMBER, far))
        wave = scene.builder.insert_element(wave, number, ir.Constant(ir.IntType(32), i))
    rows[IN] = wave


def _to_bus_v(scene: _Scene) -> Code:
    rows = scene.row(0, 1)
    each = scene.sum_of(*((rows[TO_BUS + s], rows[IN + s]) for s in range(INPUTS)))
    return scene.call(
        f"llvm.vector.reduce.fadd.v{LANES}f64", _NUMBER, ir.Constant(_NUMBER, -0.0), each
    )


def _within(scene: _Scene) -> None:
    rows = scene.row(0, 1)
    came = [rows[IN + s] for s in range(INPUTS)]
    for j in range(OUTPUTS):
        rows[OUT + j] = scene.sum_of(
            *((rows[WITHIN + INPUTS * j + s], came[s]) for s in range(INPUTS))
        )


def _add_effect(scene: _Scene) -> None:
    rows, builder = scene.row(0, 1), scene.builder
    value = scene.eight(scene.values[3])
    further = builder.mul(scene.values[2], ir.Constant(_WORD, OUTPUTS * _PART_BYTES))
    for j in range(OUTPUTS):
        effect = builder.load(rows.place(EFFECT + j, more=further), align=8)
        added = builder.fmul(effect, value, flags=_LOOSE)
        rows[OUT + j] = builder.fadd(rows[OUT + j], added, flags=_LOOSE)


def _finish(scene: _Scene) -> None:
    rows, sent, builder = scene.row(0, 1), scene.row(4, 5), scene.builder
    bus, port = scene.eight(scene.values[2]), scene.eight(scene.values[3])
    # What the next step waits for stays in registers: a way through memory costs it a tenth.
    out = [
        builder.fadd(
            rows[OUT + j],
            scene.sum_of((rows[EFFECT + j], bus), (rows[EFFECT + OUTPUTS + j], port)),
            flags=_LOOSE,
        )
        for j in range(OUTPUTS)
    ]
    for s in range(STORE, INPUTS):
        rows[IN + s] = out[s]
    waves = [out[0], *(rows[SENT + back] for back in range(TAPS - SENT))]
    taps = [rows[TAPS + back] for back in range(len(waves))]
    lane = builder.mul(scene.values[1], ir.Constant(_WORD, _PART_BYTES))
    between = scene.sum_of(*zip(taps, waves, strict=True))
    builder.store(between, sent.place(0, _PART, lane), align=8)
    for back in range(TAPS - SENT):
        rows[SENT + back] = waves[back]
    _raise_peaks(scene, rows, scene.size(out[SEEN]))


def _raise_peaks(scene: _Scene, rows: _Row, seen: Code) -> None:
    builder = scene.builder
    y = [rows[SEEN_BEFORE + back] for back in range(4)]
    y.append(seen)
    slopes = [builder.fsub(after, before) for before, after in pairwise(y)]
    bends = [builder.fsub(before, after) for before, after in pairwise(slopes)]
    first, last = scene.size(bends[0]), scene.size(bends[2])
    beside = scene.chosen(first, "<", last, (first, last))
    # A sharp peak, as at a gap's sparkover, keeps its sample.
    three = ir.Constant(_PART, [ir.Constant(_NUMBER, 3.0)] * LANES)
    eight = ir.Constant(_PART, [ir.Constant(_NUMBER, 8.0)] * LANES)
    across = builder.fsub(y[3], y[1])
    rise = builder.fdiv(builder.fmul(across, across), builder.fmul(eight, bends[1]))
    top = builder.fadd(y[2], rise)
    top = scene.chosen(bends[1], "<=", builder.fmul(three, beside), (top, y[4]))
    top = scene.chosen(y[2], ">=", y[1], (top, y[4]))
    top = scene.chosen(y[2], ">", y[3], (top, y[4]))
    rows[PEAK] = scene.chosen(top, ">", rows[PEAK], (top, rows[PEAK]))
    for back in range(4):
        rows[SEEN_BEFORE + back] = y[back + 1]


_nothing, _number, _at = types.void, types.float64, types.int64

arrive = _function(lambda rows, _g, sent, _n, back: _nothing(rows, _at, sent, _at, back), _arrive)
"""Of rows, group, waves sent, line and back: fetch each wave from its own line and lane."""

to_bus_v = _function(lambda rows, _g: _number(rows, _at), _to_bus_v)
"""Of rows and group: return what the group's inputs add to the bus voltage. [V]"""

within = _function(lambda rows, _g: _nothing(rows, _at), _within)
"""Of rows and group: set the group's outputs to what its own inputs make of them."""

add_effect = _function(lambda rows, _g, _s, _value: _nothing(rows, _at, _at, _number), _add_effect)
"""Of rows, group, a further signal and its value: add what it does to the outputs."""

finish = _function(
    lambda rows, _g, _bus, _port, sent, _n: _nothing(rows, _at, _number, _number, sent, _at),
    _finish,
)
"""Of rows, group, bus voltage, first port's current, waves sent and line: add what bus and
port do, take the stores on, send the waves, each put between its samples as the leg it goes
to will want it, and raise the peaks as ``solver.crest`` finds them, the middle of five."""
