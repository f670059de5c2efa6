"""A radial network as legs side by side: the shape that lets one surge run fastest.

A board has one place where everything meets, its bus. Take the voltage there as known and
what remains falls apart into legs of a few inputs each: a supply, an SPD with its leads,
a circuit. Eight legs share each instruction, and the bus voltage alone joins them.

The shape is found in the numbers. With Z the answers of a subnetwork and b its bus, what
is left of each answer without the bus's part, Z - Z[:, b]·Z[b, :] / Z[b, b], must be
nothing between legs.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from boardwright.surge.elements import Varistor
from boardwright.surge.prepare import Prepared
from boardwright.surge.subnets import Subnet
from boardwright.surge.tables import END, PORT, SOURCE, WATCH, Ints
from boardwright.surge.waveforms import Array

LANES = 8

# What a leg holds: a wave and two stores at most. A watched voltage follows its outputs.
WAVE, STORE, OTHER_STORE, SEEN = range(4)
INPUTS, OUTPUTS = 3, 4

# Parts of a group's row, eight figures each, one a leg: what a step reads and keeps.
TO_BUS = 0
WITHIN = TO_BUS + INPUTS
IN = WITHIN + OUTPUTS * INPUTS
OUT = IN + INPUTS
SENT = OUT + OUTPUTS
TAPS = SENT + 3
SEEN_BEFORE = TAPS + 4
PEAK = SEEN_BEFORE + 4
EFFECT = PEAK + 1

# Of the signals that act on legs the bus voltage is the first; ports and sources follow.
BUS = 0

_NOTHING_RATIO = 1e-10


class Legs(NamedTuple):
    """The numbers of all legs.

    ``groups`` has a row for eight legs, see above. ``signal_bus`` is what each signal does
    to the bus voltage. A port's line of ``open_of`` makes its open voltage of its leg's
    inputs and of each signal. What arrives at a leg was sent so many bytes ``back``.
    """

    groups: Array
    signal_bus: Array
    port_lane: Ints
    open_of: Array
    back: Ints
    depth: int
    bus_groups: int
    input_lane: Ints
    end_lane: Ints
    seen_lane: Ints


class _Leg(NamedTuple):
    """Which inputs, port and watched row of a subnetwork one leg holds."""

    inputs: tuple[int, ...]
    port: bool
    seen: int


class _Answers(NamedTuple):
    """A subnetwork's answers without the bus's part, and that part."""

    rest: Array
    from_bus: Array
    to_bus: Array


def legs_of(ready: Prepared) -> Legs | None:
    """Return a network as legs, or nothing if its shape is another."""
    cut = [
        _cut(subnet, ready.rows[k], ready.tables.step_s) for k, subnet in enumerate(ready.subnets)
    ]
    found = [item for item in cut if item is not None]
    if len(found) < len(cut) or sum(answers.to_bus.any() for answers, _ in found) > 1:
        return None
    places = [(k, leg) for k, (_, legs) in enumerate(found) for leg in legs]
    # Legs that move the bus stand first: the others need not be asked for it.
    places.sort(key=lambda place: not found[place[0]][0].to_bus[list(place[1].inputs)].any())
    movers = sum(bool(found[k][0].to_bus[list(leg.inputs)].any()) for k, leg in places)
    filler = _Filler(ready, len(places))
    for lane, (k, leg) in enumerate(places):
        filler.put(lane, k, leg, found[k][0])
    return filler.filled(-(-movers // LANES))


def _cut(subnet: Subnet, rows: list[Array], step_s: float) -> tuple[_Answers, list[_Leg]] | None:
    """Return a subnetwork's answers and legs, around a bus if it needs one."""
    if len(subnet.ports) > 1 or not all(isinstance(port, Varistor) for port in subnet.ports):
        return None
    scale = (2 / step_s) ** 0.5
    columns = np.hstack([subnet.store * scale, subnet.wave])
    inverse = np.linalg.inv((subnet.store * scale**2) @ subnet.store.T - subnet.a)
    into = np.hstack([columns, subnet.port, subnet.source])
    out = np.vstack([columns.T, -subnet.port.T, np.array(rows).reshape(-1, len(inverse))])
    whole = out @ inverse @ into
    alone = _Answers(whole, np.zeros(len(whole)), np.zeros(whole.shape[1]))
    if (legs := _legs(subnet, alone.rest)) is not None:
        return alone, legs
    for bus in range(len(subnet.nodes)):
        from_bus, to_bus = out @ inverse[:, bus] / inverse[bus, bus], inverse[bus] @ into
        answers = _Answers(whole - np.outer(from_bus, to_bus), from_bus, to_bus)
        if (legs := _legs(subnet, answers.rest)) is not None:
            return answers, legs
    return None


def _legs(subnet: Subnet, rest: Array) -> list[_Leg] | None:
    """Return the legs that answers fall apart into, if all are small enough."""
    stores = subnet.store.shape[1]
    count = stores + len(subnet.ends)
    own = count + len(subnet.ports)
    joined = np.abs(rest[:, :own]) > _NOTHING_RATIO * np.abs(rest[:own, :own]).max(initial=0.0)
    near = [set(np.flatnonzero(joined[m] | joined[:own, m]).tolist()) for m in range(own)]
    legs: list[_Leg] = []
    left = set(range(own))
    while left:
        members: set[int] = set()
        more = {min(left)}
        while more:
            members |= more
            more = set().union(*(near[m] for m in more)) - members
        left -= members
        inputs = tuple(sorted(m for m in members if m < count))
        waves = sum(m >= stores for m in inputs)
        if waves > 1 or len(inputs) - waves > INPUTS - 1:
            return None
        legs.append(_Leg(inputs, len(inputs) < len(members), -1))
    return _with_seen(legs, joined[own:], count)


def _with_seen(legs: list[_Leg], seen: Array, count: int) -> list[_Leg] | None:
    """Give each watched row to the leg that it looks at: one to each."""
    for at, row in enumerate(seen):
        of = [
            place
            for place, leg in enumerate(legs)
            if row[list(leg.inputs)].any() or (leg.port and row[count:].any())
        ]
        if len(of) > 1 or (of and legs[of[0]].seen >= 0):
            return None
        if of:
            legs[of[0]] = legs[of[0]]._replace(seen=at)
        else:
            # It looks at the bus alone.
            legs.append(_Leg((), port=False, seen=at))
    return legs


class _Filler:
    """Writes legs into the figures of their lanes."""

    def __init__(self, ready: Prepared, legs: int) -> None:
        tables = ready.tables
        self._ready, self._lanes = ready, LANES * -(-legs // LANES)
        ports, sources = len(tables.laws), len(tables.source_gain)
        # The kernel counts on a first port: without any, its part of the row is nothing.
        signals = 1 + max(ports, 1) + sources
        self._first_source = 1 + max(ports, 1)
        # Lanes first while filling; in groups of eight at the end.
        self._rows = np.zeros((self._lanes, EFFECT + OUTPUTS * signals))
        self._signal_bus = np.zeros(signals)
        self._port_lane = np.zeros(ports, dtype=np.int64)
        self._open_of = np.zeros((ports, INPUTS + signals))
        self._end_lane = np.zeros(len(tables.whole), dtype=np.int64)
        width = tables.table.shape[2]
        self._input_lane = np.full((len(tables.layout), width), -1, dtype=np.int64)
        self._seen_lane = np.zeros(len(ready.start.seen), dtype=np.int64)

    def put(self, lane: int, k: int, leg: _Leg, answers: _Answers) -> None:
        """Write one leg of subnetwork k."""
        ready, subnet = self._ready, self._ready.subnets[k]
        layout, stores = ready.tables.layout[k], subnet.store.shape[1]
        count = stores + len(subnet.ends)
        slots = [(WAVE if at >= stores else -1, at) for at in leg.inputs]
        free = iter((STORE, OTHER_STORE))
        slots = [(slot if slot >= 0 else next(free), at) for slot, at in slots]
        for slot, at in slots:
            self._input_lane[k, at] = slot * self._lanes + lane
            if slot == WAVE:
                self._end_lane[layout[END] + at - stores] = lane
        row, outs = self._rows[lane], [(slot, at, 2.0) for slot, at in slots]
        if leg.seen >= 0:
            outs.append((SEEN, count + len(subnet.ports) + leg.seen, 1.0))
            self._seen_lane[layout[WATCH] + leg.seen] = lane
        # Stores and waves turn round: what leaves is twice the answer less what came.
        for slot, at, factor in outs:
            for other, column in slots:
                turned = 1.0 if other == slot else 0.0
                row[WITHIN + slot * INPUTS + other] = factor * answers.rest[at, column] - turned
            for signal, effect in self._effects(k, leg, answers, at):
                row[EFFECT + signal * OUTPUTS + slot] = factor * effect
        for slot, at in slots:
            row[TO_BUS + slot] = answers.to_bus[at]
        if leg.port:
            self._put_port(lane, k, slots, leg, answers)

    def _effects(self, k: int, leg: _Leg, answers: _Answers, at: int) -> list[tuple[int, float]]:
        """Return what bus, port and sources do to one answer of a leg."""
        subnet, layout = self._ready.subnets[k], self._ready.tables.layout[k]
        count = subnet.store.shape[1] + len(subnet.ends)
        first = self._first_source + int(layout[SOURCE])
        found = [(BUS, float(answers.from_bus[at]))]
        if leg.port:
            found.append((1 + int(layout[PORT]), float(answers.rest[at, count])))
        for s in range(len(subnet.sources)):
            column = count + len(subnet.ports) + s
            found.append((first + s, float(answers.rest[at, column])))
            self._signal_bus[first + s] = answers.to_bus[column]
        return found

    def _put_port(
        self, lane: int, k: int, slots: list[tuple[int, int]], leg: _Leg, answers: _Answers
    ) -> None:
        subnet, port = self._ready.subnets[k], int(self._ready.tables.layout[k, PORT])
        count = subnet.store.shape[1] + len(subnet.ends)
        self._port_lane[port] = lane
        self._signal_bus[1 + port] = answers.to_bus[count]
        for slot, at in slots:
            self._open_of[port, slot] = answers.rest[count, at]
        for signal, effect in self._effects(k, leg, answers, count):
            # Its own current comes on top of its open voltage.
            self._open_of[port, INPUTS + signal] = effect if signal != 1 + port else 0.0

    def filled(self, bus_groups: int) -> Legs:
        """Return the legs, eight to a group."""
        tables, depth = self._ready.tables, 2
        # A leg without a wave fetches what its own lane sends, which is nothing.
        back = 8 * (np.arange(self._lanes, dtype=np.int64) % LANES - 2 * self._lanes)
        for end, lane in enumerate(self._end_lane):
            sender = int(self._end_lane[tables.partner[end]])
            # A wave is put between samples as it is sent, with the taps of where it goes.
            self._rows[sender, TAPS : TAPS + 4] = tables.taps[end]
            steps = int(tables.whole[end]) - 1
            back[lane] = 8 * (sender - steps * self._lanes)
            depth = max(depth, steps)
        parts = self._rows.shape[1]
        groups = self._rows.reshape(-1, LANES, parts).transpose(0, 2, 1)
        return Legs(
            np.ascontiguousarray(groups.reshape(-1, parts * LANES)),
            self._signal_bus,
            self._port_lane,
            self._open_of,
            back.reshape(-1, LANES),
            depth,
            bus_groups,
            self._input_lane,
            self._end_lane,
            self._seen_lane,
        )


def inputs_by_lane(legs: Legs, state: Array) -> Array:
    """Return what the inputs hold, by group, slot and lane, from a line a subnetwork."""
    lanes = legs.back.size
    by_slot = np.zeros(INPUTS * lanes)
    held = legs.input_lane >= 0
    by_slot[legs.input_lane[held]] = state[held]
    return by_slot.reshape(INPUTS, -1, LANES).transpose(1, 0, 2).reshape(-1)


def ends_by_lane(legs: Legs, waves: Array) -> Array:
    """Return a wave for each line end at the lane of its leg."""
    by_lane = np.zeros(legs.back.size)
    by_lane[legs.end_lane] = waves
    return by_lane
