"""The formulas of a circuit and of its supply, each with the function that computes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from boardwright.circuits.allowance import one_allowed_a
from boardwright.circuits.capacity import installed_a, required_it_a
from boardwright.circuits.conductor import (
    hot_ohm,
    loop_ohm,
    ring_r1r2_ohm,
    temperature_factor,
)
from boardwright.circuits.design_current import current_a
from boardwright.circuits.fault import (
    adiabatic_mm2,
    cold_zs_max_ohm,
    fault_a,
    fault_behind_a,
    hot_loop_ohm,
    least_fault_a,
    max_zs_ohm,
    rcd_zs_max_ohm,
)
from boardwright.circuits.phases import unbalance_a
from boardwright.circuits.rcd import leakage_share
from boardwright.circuits.volt_drop import (
    allowed_drop_v,
    ct_factor,
    volt_drop_v,
    warm_drop_v,
)
from boardwright.circuits.working.step import Formula

IB = Formula("ib_a", "Design current", "{power_w} / {u0_v}", current_a)
IB_3 = Formula("ib_a", "Design current of each line", "{power_w} / ({u0_v} · {phases})", current_a)
CONNECTED = Formula(
    "connected_a", "Current of all that is connected", "{power_w} / {u0_v}", current_a
)
CONNECTED_3 = Formula(
    "connected_a", "Current of all that is connected", "{power_w} / ({u0_v} · {phases})", current_a
)
COOKER = Formula(
    "ib_a",
    "Design current after the allowance for cooking",
    "{full_a} + {share_factor} · ({connected_a} − {full_a}) + {socket_a}",
    one_allowed_a,
)
IT_ASKED = Formula(
    "it_needed_a",
    "Tabulated capacity that the device asks of the cable",
    "{in_a} / {factor}",
    required_it_a,
)
IZ = Formula(
    "iz_a",
    "Capacity as installed",
    "{it_a}",
    installed_a,
)
DROP = Formula(
    "volt_drop_v",
    "Volt drop from the origin, conductor at its limit",
    "{drop_v_per_a_m} · {load_a} · {length_m}",
    volt_drop_v,
)
CT = Formula(
    "ct_factor",
    "Factor for the temperature that the load brings",
    "(230 + {limit_c} − (({ca_factor} · {cg_factor})² − ({ib_a} / {it_a})²) · ({limit_c} − 30))"
    " / (230 + {limit_c})",
    ct_factor,
)
WARM_DROP = Formula(
    "volt_drop_warm_v", "Volt drop at that temperature", "{volt_drop_v} · {ct_factor}", warm_drop_v
)
WARM_DROP_BEHIND = Formula(
    "volt_drop_warm_v",
    "Volt drop at that temperature",
    "{before_v} + ({volt_drop_v} − {before_v}) · {ct_factor}",
    warm_drop_v,
)
DROP_LIMIT = Formula(
    "volt_drop_limit_v",
    "Volt drop allowed",
    "{drop_fraction} · {nominal_v}",
    allowed_drop_v,
)
LOOP_COLD = Formula(
    "r1r2_20c_ohm",
    "R1+R2 of the cable at 20 °C",
    "({line_ohm_per_m} + {cpc_ohm_per_m}) · {length_m}",
    loop_ohm,
)
RING_READ = Formula(
    "r1r2_20c_ohm", "R1+R2 by the ring's readings", "({r1_ohm} + {r2_ohm}) / 4", ring_r1r2_ohm
)
HOT = Formula(
    "hot_factor",
    "What resistance grows by from 20 °C",
    "1 + {per_kelvin_fraction} · ({at_c} − 20)",
    temperature_factor,
)
LOOP_HOT = Formula(
    "r1r2_hot_ohm",
    "R1+R2 at the conductor's limit",
    "({cold_ohm}) · {hot_factor}",
    hot_ohm,
    {"cold_ohm": "R1+R2"},
)
ZS = Formula(
    "zs_ohm",
    "Earth fault loop at the far end, hot",
    "{before_ohm} + ({cold_ohm}) · {hot_factor}",
    hot_loop_ohm,
    {"before_ohm": "Zdb", "cold_ohm": "R1+R2"},
)
ZS_MAX = Formula(
    "zs_max_ohm",
    "Largest loop at which the breaker trips at once",
    "{u0_v} · {cmin} / ({in_a} · {trip_multiple})",
    max_zs_ohm,
)
ZS_MAX_RCD = Formula(
    "zs_max_ohm",
    "Largest loop at which the RCD limits the touch voltage",
    "{touch_v} / {idn_a}",
    rcd_zs_max_ohm,
)
ZS_MAX_COLD = Formula(
    "zs_cold_max_ohm",
    "Largest reading, the cable cold",
    "{measured_factor} · {zs_max_ohm}",
    cold_zs_max_ohm,
)
FAULT = Formula("fault_a", "Earth fault current at the far end", "{u0_v} / {zs_ohm}", fault_a)
FAULT_LEAST = Formula(
    "ipf_min_a",
    "Least fault current, at the lowest voltage",
    "{cmin} · {u0_v} / {zs_ohm}",
    least_fault_a,
)
ADIABATIC = Formula(
    "adiabatic_mm2",
    "Least protective conductor",
    "√({current_a}² · {time_s}) / {k_factor}",
    adiabatic_mm2,
)
LEAKAGE = Formula(
    "leakage_share",
    "Share of the standing leakage allowed",
    "{leakage_a} / ({leakage_fraction} · {idn_a})",
    leakage_share,
)
NEUTRAL = Formula(
    "neutral_a",
    "What the three lines leave for the neutral",
    "√(({l1_a} − ({l2_a} + {l3_a}) / 2)² + 3 · ({l2_a} − {l3_a})² / 4)",
    unbalance_a,
)
ZDB = Formula(
    "zdb_ohm",
    "Earth fault loop at the board, hot",
    "{before_ohm} + {cold_ohm} · {hot_factor}",
    hot_loop_ohm,
    {"before_ohm": "Ze", "cold_ohm": "R"},
)
SUBMAIN_DROP = Formula(
    "before_v",
    "Volt drop of the submain",
    "{drop_v_per_a_m} · {load_a} · {length_m}",
    volt_drop_v,
)
FAULT_BOARD = Formula(
    "ipf_board_max_a",
    "Highest fault current at the board",
    "{u0_v} / ({u0_v} / {ipf_a} + {ways} · {one_way_ohm})",
    fault_behind_a,
)
FAULT_BOARD_LEAST = Formula(
    "ipf_board_min_a",
    "Fault current to earth at the board, hot",
    "{u0_v} / {zs_ohm}",
    fault_a,
    {"zs_ohm": "Zdb"},
)


def with_factors(names: Sequence[str]) -> Formula:
    """Return the capacity as installed with the factors that are not 1."""
    return replace(IZ, written=" · ".join(["{it_a}", *(f"{{{name}}}" for name in names)]))


def along(formula: Formula, *, ring: bool, behind: bool = False) -> Formula:
    """Return a formula of a length: of a ring a quarter counts, behind a submain its drop too."""
    paths = " / {paths}" if ring else ""
    before = "{before_v} + " if behind else ""
    return replace(formula, written=f"{before}{formula.written}{paths}")
