"""The same circuit with another cable, device or load; what was read of the old one is dropped."""

from __future__ import annotations

from collections.abc import Mapping

from boardwright.circuits.capacity import capacity_table
from boardwright.job.circuit import Cable, Circuit, CircuitReadings
from boardwright.standards.edition import Edition

_FLAT = frozenset({"flat twin and earth", "unknown"})
_ONE_PHASE = 1


def with_cable(circuit: Circuit, changes: Mapping[str, object]) -> Circuit:
    """Return the circuit with its cable changed; readings of the old one speak no more."""
    return circuit.model_copy(
        update={
            "cable": circuit.cable.model_copy(update=dict(changes)),
            "readings": CircuitReadings(leakage_a=circuit.readings.leakage_a),
        }
    )


def with_device(circuit: Circuit, changes: Mapping[str, object]) -> Circuit:
    """Return the circuit behind another device."""
    return circuit.model_copy(
        update={"wanted": circuit.wanted.model_copy(update=dict(changes))},
    )


def with_load(circuit: Circuit, ib_a: float) -> Circuit:
    """Return the circuit with a design current that is known."""
    load = circuit.load.model_copy(update={"ib_a": ib_a, "power_w": None})
    return circuit.model_copy(update={"load": load})


def sizes(edition: Edition, circuit: Circuit) -> tuple[tuple[float, float], ...]:
    """Return the sizes that a circuit's kind of cable is made in: line and cpc, smallest first."""
    table = capacity_table(edition, circuit.cable.type, circuit.phases)
    lines = sorted(float(row) for row in table.rows)
    return tuple((line_mm2, _cpc_mm2(edition, circuit, line_mm2)) for line_mm2 in lines)


def _cpc_mm2(edition: Edition, circuit: Circuit, line_mm2: float) -> float:
    row = f"{line_mm2:g}"
    flat = edition.table("flat_cpc_mm2").cell(row, "cpc_mm2")
    if circuit.cable.type in _FLAT and circuit.phases == _ONE_PHASE and flat is not None:
        return flat
    return edition.table("protective_min_mm2").cell(row, "mm2") or line_mm2


def is_larger(line_mm2: float, cpc_mm2: float, cable: Cable) -> bool:
    """Tell whether a size is larger than a cable in its line, and no smaller in its cpc."""
    return line_mm2 > cable.line_mm2 and cpc_mm2 >= cable.cpc_mm2
