"""Homes drawn from the job's own schema: whatever the survey may say, some home here says.

A field that is added to the schema is drawn from that day on. ``USUAL`` makes the draws look like
homes where a blind draw would not; every sixth value ignores it and goes to the schema's limits.
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from typing import Any

from boardwright.catalogue.catalogue import Catalogue
from boardwright.job.job import Job
from boardwright.standards.load import editions

SCHEMA = Job.model_json_schema()

EXTREME = 1 / 6
"""How often a number goes to the limits that the schema sets rather than to a usual one."""

USUAL: Mapping[str, tuple[Any, ...]] = {
    "Submain.id": ("submain",),
    "Job.demand_logged_a": (22.0, 48.0, 71.0),
    "Supply.u0_v": (230.0,),
    "Supply.ze_ohm": (0.05, 0.21, 0.35, 0.8, 21.0, 90.0, 240.0),
    "Supply.ipf_a": (310.0, 1250.0, 3300.0, 6600.0, 15900.0),
    "Supply.cutout_fuse_a": (60.0, 80.0, 100.0),
    "Supply.service_length_m": (4.0, 12.0, 30.0),
    "Supply.neutral_mm2": (16.0, 25.0, 35.0),
    "Tails.csa_mm2": (10.0, 16.0, 25.0, 35.0),
    "Tails.length_m": (0.8, 2.5, 3.4, 14.0, 100.0),
    "Submain.fuse_a": (63.0, 80.0, 100.0),
    "Submain.line_mm2": (10.0, 16.0, 25.0),
    "Submain.cpc_mm2": (4.0, 10.0, 16.0),
    "Submain.length_m": (8.0, 25.0, 70.0),
    "Bond.csa_mm2": (2.5, 6.0, 10.0, 16.0),
    "Earthing.conductor_mm2": (2.5, 6.0, 10.0, 16.0),
    "Earthing.conductor_length_m": (1.2, 4.0, 12.0),
    "Earthing.electrode_ohm": (18.0, 90.0, 190.0, 260.0, 2400.0),
    "SurgeEnvironment.ng_per_km2_year": (0.1, 0.5, 1.2),
    "ExistingBoard.ways": (4, 6, 10, 14, 17),
    "ExistingBoard.family": ("", "", "ravel-r1", "tarn-t3", "ravel-r3", "nobody-knows"),
    "ExistingBoard.main_switch_a": (60.0, 80.0, 100.0),
    "ExistingBoard.main_switch_poles": (1, 2, 3, 4),
    "ExistingDevice.in_a": (6.0, 16.0, 20.0, 32.0, 63.0),
    "ExistingDevice.idn_a": (0.03, 0.1, 0.3),
    "Wishes.maker": ("", "", "Ravel", "Tarn", "Nobody"),
    "Wishes.spare_ways": (0, 2, 4),
    "Wishes.separate_box_lead_m": (0.15, 0.4, 1.2),
    "Cable.line_mm2": (1.0, 1.5, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0),
    "Cable.cpc_mm2": (0.0, 1.0, 1.5, 2.5, 4.0, 6.0),
    "Cable.length_m": (0.5, 4.0, 12.0, 25.0, 48.0, 80.0),
    "Cable.ambient_c": (25.0, 30.0, 40.0),
    "Cable.grouped_with": (0, 0, 1, 4),
    "Cable.reach_mm": (120.0, 450.0, 800.0),
    "Load.power_w": (150.0, 3000.0, 7360.0, 9500.0, 12000.0),
    "Load.ib_a": (0.7, 9.0, 28.0, 41.0),
    "Load.points": (1, 6, 14),
    "Wanted.in_a": (5.0, 6.0, 10.0, 15.0, 16.0, 20.0, 30.0, 32.0, 40.0, 45.0, 50.0),
    "Wanted.idn_a": (0.01, 0.03, 0.1, 0.3),
    "CircuitReadings.r1_ohm": (0.31, 0.7),
    "CircuitReadings.rn_ohm": (0.31, 0.7, 1.9),
    "CircuitReadings.r2_ohm": (0.52, 1.1),
    "CircuitReadings.r1r2_ohm": (0.0, 0.12, 0.6, 1.8),
    "CircuitReadings.insulation_mohm": (0.0, 0.3, 1.2, 200.0),
    "CircuitReadings.zs_ohm": (0.3, 0.9, 2.4, 110.0),
    "CircuitReadings.leakage_a": (0.0, 0.001, 0.004, 0.012),
    "Source.power_w": (800.0, 3680.0, 6000.0),
}

METHODS: Mapping[str, tuple[str, ...]] = {
    "flat twin and earth": ("100", "101", "102", "103", "A", "B", "C"),
    "singles": ("A", "B", "C"),
    "swa 90": ("C", "D"),
    "swa 70": ("C", "D"),
    "unknown": ("A", "B", "C"),
}
"""The methods for which a table gives the capacity of such a cable; another is refused."""

SOMETIMES = {"Circuit.phases": 0.1, "Supply.submain": 0.25, "Wishes.enclosure": 0.15}
"""How often a field is filled in where most homes leave it alone."""


def home(seed: int, catalogue: Catalogue) -> Job:
    """Return the home of that number: the same number always gives the same home."""
    return Job.model_validate(_Draw(seed, catalogue).job())


class _Draw:
    """One home in the making."""

    def __init__(self, seed: int, catalogue: Catalogue) -> None:
        self.random = random.Random(seed)
        self.catalogue = catalogue
        self.seed = seed
        # Some surveys are complete, some have hardly begun.
        self.answered = self.random.choice((0.15, 0.6, 0.9, 1.0))
        self.appliances = 0
        self.phases = 1

    def job(self) -> dict[str, Any]:
        data = self.section("Job", SCHEMA)
        data["id"], data["title"] = f"home-{self.seed}", f"Home {self.seed}"
        data["designed_on"] = "2026-11-25"
        data["edition"] = self.random.choice(editions())
        count = self.random.choice((1, 2, 5, 8, 12, 18, 40))
        self.phases = data["supply"].get("phases", 1)
        data["circuits"] = [self.circuit(k, count) for k in range(count)]
        # One item a service: of two alike no finding could tell which it means.
        earthing = data["earthing"]
        services = {bond["service"]: bond for bond in earthing.get("bonds", ())}
        earthing["bonds"] = list(services.values())
        self._supply(data)
        self._board(data)
        self._wishes(data)
        self._assumed(data)
        return data

    def section(self, name: str, schema: Mapping[str, Any]) -> dict[str, Any]:
        """Draw a section: what it must have, and of the rest what was answered."""
        must = schema.get("required", ())
        drawn = {}
        for key, field in schema["properties"].items():
            often = SOMETIMES.get(f"{name}.{key}", self.answered)
            if key in must or self.random.random() < often:
                drawn[key] = self.value(f"{name}.{key}", field)
        return drawn

    def value(self, path: str, schema: Mapping[str, Any]) -> Any:  # noqa: ANN401 - as the schema says
        if path in USUAL and self.random.random() > EXTREME:
            return self.random.choice(USUAL[path])
        return self.limits(path, schema)

    def limits(self, path: str, schema: Mapping[str, Any]) -> Any:  # noqa: ANN401 - as above
        """Draw from all that the schema allows."""
        if "$ref" in schema:
            name = schema["$ref"].rpartition("/")[2]
            return self.section(name, SCHEMA["$defs"][name])
        if "anyOf" in schema:
            return self.limits(path, next(s for s in schema["anyOf"] if s.get("type") != "null"))
        if "enum" in schema or "const" in schema:
            return self.random.choice(schema.get("enum") or [schema["const"]])
        return self.plain(path, schema)

    def plain(self, path: str, schema: Mapping[str, Any]) -> Any:  # noqa: ANN401 - as above
        """Draw a list, a truth, a number or a text."""
        match schema.get("type"):
            case "array":
                # Circuits and groups of them are drawn once there is something to name.
                later = path == "Job.circuits" or "prefixItems" in schema
                count = 0 if later else self.few()
                return [self.value(f"{path}[]", schema["items"]) for _ in range(count)]
            case "boolean":
                return self.random.random() < 1 / 2
            case "number" | "integer":
                return self.number(schema)
            case _:
                return USUAL.get(path, ("",))[0]

    def number(self, schema: Mapping[str, Any]) -> float:
        whole = schema["type"] == "integer"
        low = schema.get("minimum", schema.get("exclusiveMinimum", 0))
        high = schema.get("maximum", 200)
        if self.random.random() < 1 / 3:
            least = low if "minimum" in schema else max(low, 0) + (1 if whole else 1e-3)
            return float(self.random.choice((least, high))) if not whole else int(least)
        # Between the limits by ratio, so that small values are as likely as large ones.
        least = max(low, 1 if whole else 1e-2)
        drawn = math.exp(self.random.uniform(math.log(least), math.log(high)))
        return round(drawn) if whole else float(f"{drawn:.3g}")

    def few(self) -> int:
        return self.random.choice((0, 0, 1, 2, 3))

    def circuit(self, k: int, count: int) -> dict[str, Any]:
        data = self.section("Circuit", SCHEMA["$defs"]["Circuit"])
        data["id"], data["name"] = f"c{k}", f"{data['serves'].capitalize()} {k}"
        data.pop("way", None)
        if self.phases == 1:
            data.pop("phases", None)
            data.pop("phase", None)
        if data["serves"] != "EV point":
            data.pop("ev", None)
        if data["serves"] not in {"PV", "battery"}:
            data.pop("source", None)
        self._cable(data["cable"], data.get("phases", 1))
        readings = data.get("readings", {})
        readings.pop("shares_neutral_with", None)
        if count > 1 and self.random.random() < 1 / 6:
            data["readings"] = {**readings, "shares_neutral_with": f"c{(k + 1) % count}"}
        for appliance in data.get("appliances", ()):
            self.appliances += 1
            appliance["id"] = f"a{self.appliances}"
            appliance["kind"] = self.random.choice(sorted(self.catalogue.appliances))
            if "position_m" in appliance:
                appliance["position_m"] = data["cable"]["length_m"] * self.random.random()
        return data

    def _cable(self, cable: dict[str, Any], phases: int) -> None:
        """Keep to what the tables of capacity know: else the job is refused, and rightly."""
        kind = cable.get("type", "flat twin and earth")
        sizes = (1.5, 2.5, 4.0, 6.0, 10.0, 16.0) + (() if "flat" in kind else (25.0, 70.0))
        least_mm2 = 1.0 if "flat" in kind and phases == 1 else 1.5
        cable["line_mm2"] = max(cable["line_mm2"], least_mm2)
        if cable["line_mm2"] > sizes[-1]:
            cable["line_mm2"] = self.random.choice(sizes)
        if "method" in cable:
            known = ("B", "C") if phases > 1 and "swa" not in kind else METHODS[kind]
            cable["method"] = self.random.choice(known)

    def _supply(self, data: dict[str, Any]) -> None:
        around = data["surge_environment"]
        lines = [key for key in around if key.endswith("_m")]
        for key in lines:
            around[key] = round(around[key] / len(lines), 1)

    def _board(self, data: dict[str, Any]) -> None:
        board = data.get("existing_board")
        if board is None:
            data.get("wishes", {}).pop("board", None)
            return
        existing = [c["id"] for c in data["circuits"] if c.get("existing", True)]
        ways = list(range(1, board["ways"] + 1))
        for circuit, way in zip(data["circuits"], ways, strict=False):
            if circuit.get("existing", True) and self.random.random() < self.answered:
                circuit["way"] = way
        devices, free = [], 1
        for device in [*board.get("devices", ()), *self._more(existing, board["ways"])]:
            width = device.get("modules", 1)
            if free + width - 1 > board["ways"]:
                break
            device["way"] = free
            free += width + self.random.choice((0, 0, 0, 1))
            device.pop("circuit", None)
            device.pop("feeds", None)
            if existing and device["kind"] in {"MCB", "RCBO", "fuse"}:
                device["circuit"] = existing.pop(0)
            devices.append(device)
        self._fed(devices)
        board["devices"] = devices

    def _fed(self, devices: list[dict[str, Any]]) -> None:
        """Say of each RCCB, or leave open, that it feeds what stands between it and the next."""
        behind: list[int] = []
        for device in reversed(devices):
            if device["kind"] == "RCCB":
                if behind and self.random.random() < self.answered:
                    device["feeds"] = sorted(behind)
                behind = []
            elif device["kind"] in {"MCB", "fuse"}:
                behind.append(device["way"])

    def _more(self, existing: list[str], ways: int) -> list[dict[str, Any]]:
        """Draw a device for each circuit as found, as far as half of the ways or all of them."""
        count = min(len(existing), self.random.choice((ways // 2, ways)))
        schema = SCHEMA["$defs"]["ExistingDevice"]
        return [
            {**self.section("ExistingDevice", schema), "modules": 1, "kind": "MCB"}
            for _ in range(count)
        ]

    def _wishes(self, data: dict[str, Any]) -> None:
        wishes = data.setdefault("wishes", {})
        wishes.pop("enclosure", None)
        wishes.pop("spd", None)
        if self.random.random() < SOMETIMES["Wishes.enclosure"]:
            units = (e.id for e in self.catalogue.enclosures.values() if e.main_switch)
            wishes["enclosure"] = self.random.choice(sorted(units))
        if self.random.random() < SOMETIMES["Wishes.enclosure"]:
            spds = (d.id for d in self.catalogue.devices.values() if d.spd)
            wishes["spd"] = self.random.choice(sorted(spds))
        ids = [circuit["id"] for circuit in data["circuits"]]
        # Which way each thing is to stand on: seldom said, and any number of the board's ways.
        placed = self.random.sample(ids, min(len(ids), self.random.choice((0, 0, 0, 1, 2))))
        wishes["ways"] = {name: self.random.randint(1, 12) for name in placed}
        for key in ("keep_together", "keep_apart"):
            groups = range(self.random.choice((0, 0, 1, 2)))
            wishes[key] = [self.random.sample(ids, min(len(ids), 2 + k)) for k in groups]
        if "demand_logged_a" in data:
            data["demand_logged_source"] = "clamp logger on the tails, 14 days"

    def _assumed(self, data: dict[str, Any]) -> None:
        given = [f"supply.{key}" for key in ("ze_ohm", "ipf_a") if key in data["supply"]]
        data["assumed"] = [path for path in given if self.random.random() < 1 / 3]
