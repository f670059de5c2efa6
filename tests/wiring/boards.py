"""Small boards built by hand: an enclosure, devices with their pin-outs, a job to go with them.

The enclosure has the measures of the picture in the project's page on its look.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Literal, cast

from boardwright.board.results import Arrangement, BoardPlan, Item, Placement, Role, Scheme
from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import MODULE_MM, DeviceType, Kind, SpdData, Terminal
from boardwright.catalogue.enclosures import Bar, Busbar, CableEntry, EnclosureType, Rail
from boardwright.circuits.results import CircuitPlan, Demand, Origin
from boardwright.core.findings import Known, Rule
from boardwright.job.circuit import Cable, Circuit, Source
from boardwright.job.job import Job, Premises
from boardwright.job.supply import Earthing, Supply, SurgeEnvironment, Tails
from boardwright.spd.results import Backup, BackupKind, Candidate, Need, SpdChoice, SurgeNeed
from boardwright.standards.edition import Edition
from boardwright.standards.load import load_edition
from boardwright.verification.facts import Facts
from boardwright.wiring.results import Wiring
from boardwright.wiring.wire import wire

RULE = Rule("none", "none", Known.MEMORY)
Side = Literal["top", "bottom"]


def edition() -> Edition:
    return load_edition("bs7671_2018_a4")


def terminal(name: str, side: str, offset_mm: float, role: str, **more: object) -> Terminal:
    conductor = name.partition("-")[0]
    given = {"capacity_mm2": 25, "torque_nm": 2.0, "conductor": conductor, **more}
    return Terminal.model_validate(
        {"name": name, "side": side, "offset_mm": offset_mm, "role": role, **given}
    )


def device(kind: Kind, modules: int, terminals: Sequence[Terminal], **more: object) -> DeviceType:
    given = {"id": kind.value.lower().replace(" ", "-"), "name": kind.value, "poles": 2, **more}
    return DeviceType.model_validate(
        {"maker": "Ravel", "family": "ravel-r1", "kind": kind, "modules": modules}
        | {"terminals": tuple(terminals), **given}
    )


MAIN_SWITCH = device(
    Kind.MAIN_SWITCH,
    2,
    [
        terminal("L-in", "top", 8.9, "supply", capacity_mm2=35),
        terminal("N-in", "top", 26.7, "supply", capacity_mm2=35),
        terminal("L-out", "bottom", 8.9, "load", capacity_mm2=35, busbar=True),
        terminal("N-out", "bottom", 26.7, "load", capacity_mm2=35),
    ],
    in_a=100,
)
MCB = device(
    Kind.MCB,
    1,
    [
        terminal("L-out", "top", 8.9, "load"),
        terminal("L-in", "bottom", 8.9, "supply", busbar=True),
    ],
    in_a=32,
)
RCBO = device(
    Kind.RCBO,
    1,
    [
        terminal("L-out", "top", 4.7, "load", capacity_mm2=16),
        terminal("N-out", "top", 13.1, "load", capacity_mm2=16),
        terminal("L-in", "bottom", 4.7, "supply", capacity_mm2=16, busbar=True),
        terminal("N-in", "bottom", 13.1, "supply", capacity_mm2=4, flying_lead_mm=450),
    ],
    in_a=32,
    idn_a=0.03,
)
RCCB = device(
    Kind.RCCB,
    2,
    [
        terminal("L-in", "top", 8.9, "supply", capacity_mm2=35),
        terminal("N-in", "top", 26.7, "supply", capacity_mm2=35),
        terminal("L-out", "bottom", 8.9, "load", capacity_mm2=35, busbar=True),
        terminal("N-out", "bottom", 26.7, "load", capacity_mm2=35),
    ],
    in_a=63,
    idn_a=0.03,
)


def spd_type(line: Side = "top", neutral: Side = "bottom", earth: Side = "top") -> DeviceType:
    """Return an SPD of two modules with its terminals on the sides given."""
    return device(
        Kind.SPD,
        2,
        [
            terminal("L", line, 8.9, "line"),
            terminal("N", neutral, 26.7 if neutral != earth else 17.8, "line"),
            terminal("PE", earth, 26.7, "earth"),
        ],
        spd=SpdData(
            types=("T2",), connection="CT2", phases=1, uc_v=275, uc_npe_v=255, up_v=1500,
            up_ln_v=1350, in_8x20_a=20000, in_npe_8x20_a=20000, isccr_a=25000,
            backup_max_gg_a=125, csa_line_mm2=4, csa_pe_mm2=6,
        ),
    )  # fmt: skip


NEUTRAL_BAR = Bar(id="neutral-bar", conductor="N", x_mm=110.35, y_mm=29.5, count=16)
EARTH_BAR = Bar(id="earth-bar", conductor="PE", x_mm=119.25, y_mm=209.5, count=23)


def enclosure(**more: object) -> EnclosureType:
    given: dict[str, object] = {
        "id": "picture", "maker": "Ravel", "family": "ravel-r1", "name": "The board of the picture",
        "purpose": "consumer unit", "width_mm": 372, "height_mm": 258, "depth_mm": 100,
        "hand": "left", "ina_a": 100, "conditional_isc_a": 16000,
        "rails": (Rail(x_mm=43.6, y_mm=126, modules=16),),
        "bars": (NEUTRAL_BAR, EARTH_BAR),
        "busbars": (Busbar(in_a=100, below_rail_mm=50),),
        "entries": (
            _entry("tails", 52.5, 2), _entry("earth", 105.9, 1), _entry("circuits", 141.5, 11),
        ),
    }  # fmt: skip
    return EnclosureType.model_validate(given | more)


def _entry(purpose: Literal["tails", "earth", "circuits"], at_mm: float, count: int) -> CableEntry:
    return CableEntry(
        id=purpose, purpose=purpose, edge="top", at_mm=at_mm, diameter_mm=16, count=count
    )


def item(name: str, role: Role, kind: DeviceType, **more: str) -> Item:
    return replace(Item(id=name, role=role, device=kind, label=name), **more)  # type: ignore[arg-type]


def arrangement(
    placed: Sequence[tuple[int, Item]],
    box: EnclosureType | None = None,
    scheme: Scheme = Scheme.NEW_BOARD,
) -> Arrangement:
    """Return an arrangement with each item at its module of the first rail."""
    box = box or enclosure()
    rail = box.rails[0]
    placements = tuple(
        Placement(it, 0, at, at, rail.x_mm + at * MODULE_MM, rail.y_mm) for at, it in placed
    )
    used = sum(it.device.modules for _, it in placed)
    return Arrangement(scheme, box, placements, rail.modules - used, (), proven=True, gap=0.0)


def way(name: str, kind: DeviceType = RCBO, section: str = "") -> Item:
    return item(
        f"way-{name}", Role.CIRCUIT, kind, circuit_id=name, section=section, label=name.title()
    )


def picture(ways: int = 8, spd: DeviceType | None = None, spd_at: int = 3) -> Arrangement:
    """Return the board of the picture: main switch, SPD and back-up, RCBOs beside them."""
    first = spd_at + 2
    return arrangement(
        [
            (0, item("main-switch", Role.MAIN_SWITCH, MAIN_SWITCH, label="Main switch")),
            (2, item("spd-backup", Role.SPD_BACKUP, MCB, label="SPD back-up")),
            (spd_at, item("spd", Role.SPD, spd or spd_type(), label="SPD")),
            *((first + k, way(f"c{k}")) for k in range(ways)),
        ]
    )


def spare_ways(ways: int, new: int = 0) -> Arrangement:
    """Return the board of the picture as one found, its last ``new`` ways for new circuits."""
    old = {f"way-c{k}" for k in range(ways - new)}
    placed = [
        (p.module, replace(p.item, role=Role.AS_FOUND) if p.item.id in old else p.item)
        for p in picture(ways).placements
    ]
    return arrangement(placed, scheme=Scheme.SPARE_WAYS)


def _short_bar(section: str, x_mm: float) -> Bar:
    name = f"neutral-bar-{section}" if section else "neutral-bar"
    return NEUTRAL_BAR.model_copy(update={"id": name, "section": section, "x_mm": x_mm, "count": 6})


def split() -> Arrangement:
    """Return a board of two RCD sections with neutral bars of their own."""
    bars = (
        _short_bar("", 60.0),
        _short_bar("a", 160.0),
        _short_bar("b", 240.0),
        EARTH_BAR,
    )
    return arrangement(
        [
            (0, item("main-switch", Role.MAIN_SWITCH, MAIN_SWITCH)),
            (2, item("spd-backup", Role.SPD_BACKUP, MCB)),
            (3, item("spd", Role.SPD, spd_type())),
            (5, item("rcd-a", Role.SECTION_RCD, RCCB, section="a")),
            (7, way("c0", MCB, "a")),
            (8, way("c1", MCB, "a")),
            (9, item("rcd-b", Role.SECTION_RCD, RCCB, section="b")),
            (11, way("c2", MCB, "b")),
            (12, way("c3", MCB, "b")),
        ],
        enclosure(bars=bars),
    )


def two_rails() -> Arrangement:
    """Return a board with one way above beside the SPD and two on a second rail below."""
    rails = (Rail(x_mm=43.6, y_mm=290, modules=16), Rail(x_mm=43.6, y_mm=126, modules=16))
    box = enclosure(
        height_mm=420,
        rails=rails,
        bars=(NEUTRAL_BAR, EARTH_BAR.model_copy(update={"y_mm": 380.0})),
        busbars=(Busbar(in_a=100, below_rail_mm=50), Busbar(rail=1, in_a=100, below_rail_mm=50)),
    )
    above = arrangement([(p.module, p.item) for p in picture(1).placements], box)
    below = tuple(
        Placement(way(f"c{at}"), 1, at, at, 43.6 + at * MODULE_MM, 126.0) for at in (1, 2)
    )
    return replace(above, placements=above.placements + below)


def delayed() -> Arrangement:
    """Return a TT board: one RCD ahead of all ways, the SPD ahead of the RCD."""
    return arrangement(
        [
            (0, item("main-switch", Role.MAIN_SWITCH, MAIN_SWITCH)),
            (2, item("spd", Role.SPD, spd_type())),
            (4, item("incomer-rcd", Role.INCOMER_RCD, RCCB)),
            (6, way("c0")),
            (7, way("c1")),
        ]
    )


def beside() -> Arrangement:
    """Return a box for the SPD beside the board as found."""
    box = enclosure(
        id="box", purpose="SPD box", hand="none", busbars=(),
        rails=(Rail(x_mm=43.6, y_mm=126, modules=4),),
        bars=(EARTH_BAR.model_copy(update={"count": 6}),),
    )  # fmt: skip
    return arrangement([(0, item("spd", Role.SPD, spd_type()))], box, Scheme.SEPARATE_BOX)


@dataclass(frozen=True)
class Home:
    """What a test changes of the job."""

    rings: frozenset[str] = frozenset()
    isolation: str = "isolator"
    country: str = "England"
    phases: int = 1
    box_lead_m: float | None = None
    source: bool = False
    reach_mm: float | None = 600.0


def job(board: Arrangement, home: Home | None = None) -> Job:
    """Return a job with the circuits of a board."""
    home = home or Home()
    names = [p.item.circuit_id for p in board.placements if p.item.circuit_id] or ["c0"]
    return Job.model_validate(
        {
            "id": "test", "title": "1 Test Row", "designed_on": date(2026, 11, 20),
            "premises": Premises.model_validate({"kind": "house", "country": home.country}),
            "supply": Supply.model_validate(
                {"system": "TN-S", "phases": home.phases, "cutout_fuse_a": 80}
                | {"isolation": home.isolation, "tails": Tails(csa_mm2=25, length_m=1.5)}
            ),
            "earthing": Earthing(conductor_mm2=16, conductor_length_m=2),
            "surge_environment": SurgeEnvironment(setting="urban"),
            "circuits": tuple(_circuit(name, home) for name in names),
            "wishes": {"separate_box_lead_m": home.box_lead_m},
        }
    )  # fmt: skip


def _circuit(name: str, home: Home) -> Circuit:
    ring = name in home.rings
    return Circuit(
        id=name,
        name=name.title(),
        serves="PV" if home.source and name == "c0" else "sockets",
        topology="ring" if ring else "radial",
        cable=Cable(line_mm2=2.5, cpc_mm2=1.5, length_m=20, reach_mm=home.reach_mm),
        source=Source(power_w=3600) if home.source and name == "c0" else None,
    )


def choice(kind: DeviceType | None = None) -> SpdChoice:
    """Return a choice of SPD with leads of 4 and 6 mm²."""
    backup = Backup(BackupKind.MCB, 32, MCB, "")
    taken = Candidate(kind or spd_type(), backup, (), suitable=True, score=())
    return SpdChoice(taken, (taken,), "CT2", 4.0, 6.0, "")


def plan() -> CircuitPlan:
    origin = Origin(None, None, False, None, None, None)  # noqa: FBT003 - nothing is known
    return CircuitPlan(origin, Demand(0.0, {}, (), logged=False, rule=RULE), (), ())


def wired(board: Arrangement, home: Home | None = None) -> Wiring:
    """Return a board with its wires."""
    return wire(board, job(board, home), choice(), edition())


def facts(board: Arrangement, home: Home | None = None, wiring: Wiring | None = None) -> Facts:
    """Return a board as the checks see it."""
    found = wiring or wired(board, home)
    need = SurgeNeed(Need.FIT, "", RULE, None, "", "T2", "", False, None)  # noqa: FBT003 - as above
    items = tuple(p.item for p in board.placements)
    return Facts(
        job=job(board, home),
        edition=edition(),
        catalogue=Catalogue({}, {}, {}),
        plan=plan(),
        need=need,
        spd=choice(),
        board=BoardPlan(board.scheme, board.enclosure, items, ()),
        arrangement=board,
        wiring=found,
        study=cast("Any", None),
    )


def without(wiring: Wiring, conductor_id: str) -> Wiring:
    """Return the wiring less one conductor."""
    kept = tuple(c for c in wiring.conductors if c.id != conductor_id)
    return replace(wiring, conductors=kept)
