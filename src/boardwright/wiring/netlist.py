"""Which terminals must be joined: from the arrangement, the survey and the SPD.

Pin-outs are read from the terminals' roles and conductors, never assumed. An end
without a terminal name, as ``neutral-bar``, gets one when the bar is filled.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.board.results import Item, Role, Scheme
from boardwright.catalogue.enclosures import Bar
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.spd.results import SpdChoice
from boardwright.standards.edition import Edition
from boardwright.wiring.combs import Comb, combs
from boardwright.wiring.joint import COLOURS, Joint
from boardwright.wiring.layout import Layout, fed_lines, line_of, load_lines, name_of, terminals
from boardwright.wiring.practice import figure, neutral_link_mm2, way_link_mm2
from boardwright.wiring.results import SECOND_LEG, Origin
from boardwright.wiring.through import pairs

_OLD = {
    "L": "red",
    "L1": "red",
    "L2": "yellow",
    "L3": "blue",
    "N": "black",
    "PE": "green-and-yellow",
}
_SPD_ROLES = (Role.SPD, Role.SPD_BACKUP)


@dataclass(frozen=True, slots=True)
class Sizes:
    """Conductor sizes that hold for the whole board. [mm²]"""

    tails_mm2: float
    link_mm2: float
    earthing_mm2: float


def sizes(layout: Layout, job: Job, edition: Edition) -> Sizes:
    """Return the sizes of tails, links and earthing conductor.

    An earthing conductor that was not surveyed is that of the table for the tails.
    """
    main = layout.main
    rating_a = job.supply.cutout_fuse_a or (main.device.in_a if main else None) or 100.0
    submain = job.supply.submain
    tails_mm2 = submain.line_mm2 if submain else job.supply.tails.csa_mm2
    tails_mm2 = tails_mm2 or figure("defaults", "tails_mm2")
    earth_mm2 = submain.cpc_mm2 if submain else job.earthing.conductor_mm2
    table = edition.table("protective_min_mm2")
    return Sizes(
        tails_mm2=tails_mm2,
        link_mm2=neutral_link_mm2(submain.fuse_a if submain else rating_a),
        earthing_mm2=earth_mm2 or table.cell(f"{tails_mm2:g}", "mm2") or tails_mm2,
    )


def netlist(
    layout: Layout, job: Job, spd: SpdChoice, edition: Edition, *, through: bool = False
) -> tuple[Joint, ...]:
    """Return every joint of the board, in the order in which they are made.

    Earth first, then neutrals, then lines, the SPD's line, the tails last. ``through`` takes the
    tails of a box through the SPD's own terminals.
    """
    if layout.separate and through:
        return tuple(_box_through(layout, spd, sizes(layout, job, edition)))
    if layout.separate:
        return tuple(_box(layout, spd))
    size = sizes(layout, job, edition)
    found = combs(layout)
    joints = [
        *_earthing(layout, size),
        *_spd_earth(layout, spd),
        *_functional_earths(layout),
        *_cores(layout, job, "PE"),
        *_neutral_links(layout, size),
        *_spd_neutral(layout, spd),
        *_neutral_leads(layout),
        *_cores(layout, job, "N"),
        *_busbars(layout, found),
        *_line_links(layout, found, size, spd),
        *_cores(layout, job, "L"),
        *_spd_line(layout, spd),
        *_tails(layout, size),
    ]
    if job.supply.submain is not None:
        joints = [_as_found(joint) if _of_submain(joint) else joint for joint in joints]
    return tuple(_as_found(j) if _stays(layout, j) else j for j in joints)


def _of_submain(joint: Joint) -> bool:
    """Tell whether a joint is a core of the distribution circuit, which is there already."""
    return joint.begin.startswith(("meter.", "met."))


def _stays(layout: Layout, joint: Joint) -> bool:
    """Tell whether a joint of a board as found is there already."""
    new = joint.id.startswith("spd-") or joint.origin is Origin.BUSBAR
    if layout.arrangement.scheme is not Scheme.SPARE_WAYS or new:
        return False
    brought = brought_ends(layout)
    return not any(name.rpartition(".")[0] in brought for name in (joint.begin, joint.end))


def brought_ends(layout: Layout) -> frozenset[str]:
    """Return the devices that the work brings, and the cables of the circuits on them."""
    new = [item for item in layout.items if layout.is_new(item)]
    cables = {
        f"cable-{item.circuit_id}{leg}"
        for item in new
        if item.circuit_id
        for leg in ("", SECOND_LEG)
    }
    return frozenset({item.id for item in new} | cables)


def _as_found(joint: Joint) -> Joint:
    return Joint(
        joint.id, joint.begin, joint.end, joint.function, joint.csa_mm2, joint.colour,
        Origin.EXISTING, joint.group, joint.teeth,
    )  # fmt: skip


def _earthing(layout: Layout, size: Sizes) -> Iterator[Joint]:
    if layout.earth_bar:
        yield Joint("earthing", "met.PE", layout.earth_bar.id, "PE", size.earthing_mm2)
        yield from _rail_links(layout, layout.earth_bar, "PE", size.earthing_mm2)


def _rail_links(layout: Layout, first: Bar, conductor: str, link_mm2: float) -> Iterator[Joint]:
    """Yield the links from one rail's bar to the next rail's."""
    before = first
    for bar in layout.further_bars(conductor):
        joint_id = f"{conductor.lower()}-link-rail-{(bar.rail or 0) + 1}"
        yield Joint(joint_id, before.id, bar.id, conductor, link_mm2)
        before = bar


def _spd_item(layout: Layout) -> Item | None:
    return layout.of_role(Role.SPD)


def _spd_earth(layout: Layout, spd: SpdChoice) -> Iterator[Joint]:
    item = _spd_item(layout)
    if item is None:
        return
    bar = layout.earth_bar_of(item)
    for terminal in [t for t in terminals(item, "earth") if not t.through]:
        end = bar.id if bar else "board.PE"
        yield Joint("spd-pe", name_of(item, terminal), end, "PE", spd.csa_pe_mm2)


def _functional_earths(layout: Layout) -> Iterator[Joint]:
    for item in layout.items:
        bar = layout.earth_bar_of(item)
        for terminal in terminals(item, "functional earth") if bar else ():
            yield Joint(
                f"fe-{item.circuit_id or item.id}", name_of(item, terminal), bar.id if bar else "",
                "PE", 1.5, "pink", Origin.FLYING, "functional-earths",
            )  # fmt: skip


def _neutral_links(layout: Layout, size: Sizes) -> Iterator[Joint]:
    """Yield the way of the neutral from main switch through RCDs to their bars."""
    main, head = layout.main, layout.head
    if main is None or head is None:
        return
    if head is not main:
        yield from _link(main, head, f"n-link-{head.id}", size.link_mm2)
    yield from _to_bar(layout, head, "n-link", size.link_mm2)
    if layout.common_bar:
        yield from _rail_links(layout, layout.common_bar, "N", size.link_mm2)
    for rcd in layout.section_rcds:
        link_mm2 = _link_mm2(rcd, size)
        if layout.common_bar is None:
            yield from _link(head, rcd, f"n-link-{rcd.id}", link_mm2)
        else:
            for terminal in terminals(rcd, "supply", live="N"):
                ends = (name_of(rcd, terminal), layout.common_bar.id)
                yield Joint(f"n-link-{rcd.id}", *ends, "N", link_mm2)
        yield from _to_bar(layout, rcd, f"n-bar-{rcd.id}", link_mm2)


def _to_bar(layout: Layout, item: Item, joint_id: str, link_mm2: float) -> Iterator[Joint]:
    bar = layout.neutral_bar(item)
    for terminal in terminals(item, "load", live="N")[:1] if bar else ():
        yield Joint(joint_id, name_of(item, terminal), bar.id if bar else "", "N", link_mm2)


def _link(begin: Item, end: Item, joint_id: str, link_mm2: float) -> Iterator[Joint]:
    leaving, arriving = terminals(begin, "load", live="N"), terminals(end, "supply", live="N")
    for a, b in zip(leaving[:1], arriving[:1], strict=False):
        yield Joint(joint_id, name_of(begin, a), name_of(end, b), "N", link_mm2)


def _spd_neutral(layout: Layout, spd: SpdChoice) -> Iterator[Joint]:
    """Join the SPD's neutral ahead of every RCD: to the bar, or to the main switch."""
    item = _spd_item(layout)
    if item is None:
        return
    end = "board.N"
    if not layout.separate:
        end = _neutral_ahead(layout)
    for terminal in [t for t in terminals(item, "line", live="N") if not t.through][:1]:
        yield Joint("spd-n", name_of(item, terminal), end, "N", spd.csa_line_mm2)


def _neutral_ahead(layout: Layout) -> str:
    main, bar = layout.main, layout.common_bar
    if bar and layout.head is main:
        return bar.id
    load = terminals(main, "load", live="N") if main else ()
    return name_of(main, load[0]) if main and load else "meter.N"


def _neutral_leads(layout: Layout) -> Iterator[Joint]:
    """Yield the supply neutrals of ways that switch or measure it: flying leads mostly."""
    for item in layout.items:
        if item.role not in (Role.CIRCUIT, Role.AS_FOUND) or item is layout.main:
            continue
        if item in layout.section_rcds:
            continue
        bar = layout.neutral_bar(item)
        for terminal in terminals(item, "supply", live="N")[:1] if bar else ():
            flying = terminal.flying_lead_mm > 0
            link_mm2 = min(terminal.capacity_mm2, way_link_mm2(item.device.in_a or 0.0))
            yield Joint(
                f"n-{item.circuit_id or item.id}", name_of(item, terminal), bar.id if bar else "",
                "N", terminal.capacity_mm2 if flying else link_mm2,
                origin=Origin.FLYING if flying else Origin.NEW, group="neutral-leads",
            )  # fmt: skip


def _busbars(layout: Layout, found: tuple[Comb, ...]) -> Iterator[Joint]:
    for comb in found:
        # The comb stands in a clamp of its own at the lug that feeds it.
        teeth = (f"{comb.lug}.0", *comb.teeth) if comb.lug else comb.teeth
        if len(teeth) > 1:
            in_a = [b.in_a for b in layout.arrangement.enclosure.busbars if b.rail == comb.rail]
            yield Joint(
                comb.id, comb.feed, comb.far, comb.line, 16.0 if in_a else 0.0,
                COLOURS[comb.line], Origin.BUSBAR, "busbars", teeth,
            )  # fmt: skip


def _line_links(
    layout: Layout, found: tuple[Comb, ...], size: Sizes, spd: SpdChoice
) -> Iterator[Joint]:
    """Yield the cables to lugs of further rails, and to devices that no comb reaches."""
    yield from _lug_links(layout, found, size)
    for item in layout.items:
        feeder = layout.feeder(item)
        if feeder is None or item.role is Role.SPD:
            continue
        sources = load_lines(feeder)
        for line, terminal in fed_lines(item).items():
            name = name_of(item, terminal)
            comb = next((c for c in found if name in c.teeth), None)
            if line not in sources or (comb and (comb.fed or comb.lug or comb.feed != name)):
                continue
            csa_mm2 = spd.csa_line_mm2 if item.role in _SPD_ROLES else _link_mm2(item, size)
            joint_id = (
                f"spd-tap-{line.lower()}"
                if item.role in _SPD_ROLES
                else f"link-{item.id}-{line.lower()}"
            )
            yield Joint(joint_id, name_of(feeder, sources[line]), name, line, csa_mm2)


def _lug_links(layout: Layout, found: tuple[Comb, ...], size: Sizes) -> Iterator[Joint]:
    """Yield the link to each further rail's busbar, from the rail before it."""
    head = layout.head
    sources = load_lines(head) if head else {}
    before: dict[str, str] = {}
    for comb in found:
        if comb.lug and head and comb.line in sources:
            begin = before.get(comb.line, name_of(head, sources[comb.line]))
            joint_id = f"link-rail-{comb.rail + 1}-{comb.line.lower()}"
            yield Joint(joint_id, begin, comb.lug, comb.line, size.link_mm2)
            before[comb.line] = comb.lug


def _link_mm2(item: Item, size: Sizes) -> float:
    """Return the size of a link to an RCD or a way, by its rating. [mm²]"""
    rating_a = item.device.in_a or 0.0
    if item.role is Role.CIRCUIT:
        return way_link_mm2(rating_a)
    return neutral_link_mm2(rating_a) if item.role is Role.SECTION_RCD else size.link_mm2


def _spd_line(layout: Layout, spd: SpdChoice) -> Iterator[Joint]:
    """Join the SPD's lines to its back-up device, or ahead of every RCD without one."""
    item = _spd_item(layout)
    if item is None:
        return
    source = layout.of_role(Role.SPD_BACKUP) or layout.main
    sources = load_lines(source) if source else {}
    for line, terminal in fed_lines(item).items():
        if terminal.busbar and source is layout.main and source is not None:
            continue
        begin = name_of(source, sources[line]) if source and line in sources else f"board.{line}"
        joint_id = "spd-l" if line == "L" else f"spd-{line.lower()}"
        yield Joint(joint_id, begin, name_of(item, terminal), line, spd.csa_line_mm2)


def _tails(layout: Layout, size: Sizes) -> Iterator[Joint]:
    main = layout.main
    if main is None:
        return
    for terminal in terminals(main, "supply", live="N")[:1]:
        yield Joint("tail-n", "meter.N", name_of(main, terminal), "N", size.tails_mm2)
    for line, terminal in fed_lines(main).items():
        ends = (f"meter.{line}", name_of(main, terminal))
        yield Joint(f"tail-{line.lower()}", *ends, line, size.tails_mm2)


def _box(layout: Layout, spd: SpdChoice) -> Iterator[Joint]:
    """Yield the joints of a box beside the board: its three leads come from that board."""
    bar: Bar | None = layout.earth_bar
    if bar and _spd_item(layout):
        yield Joint("spd-pe-supply", "board.PE", bar.id, "PE", spd.csa_pe_mm2)
    yield from _spd_earth(layout, spd)
    yield from _spd_neutral(layout, spd)
    backup = layout.of_role(Role.SPD_BACKUP)
    for line, terminal in fed_lines(backup).items() if backup else ():
        ends = (f"board.{line}", name_of(backup, terminal)) if backup else ("", "")
        yield Joint(f"spd-tap-{line.lower()}", *ends, line, spd.csa_line_mm2)
    yield from _spd_line(layout, spd)


def _box_through(layout: Layout, spd: SpdChoice, size: Sizes) -> Iterator[Joint]:
    """Yield the joints of a box with V wiring: tails in from the meter, out to the board."""
    item = _spd_item(layout)
    if item is None:
        return
    bar = layout.earth_bar
    if bar:
        yield Joint("spd-pe-supply", "board.PE", bar.id, "PE", spd.csa_pe_mm2)
    yield from _spd_earth(layout, spd)
    for way_in, out in sorted(pairs(item), key=lambda pair: pair[0].conductor != "N"):
        line = "N" if way_in.conductor == "N" else line_of(item, way_in)
        ends = (f"meter.{line}", name_of(item, way_in))
        yield Joint(f"tail-{line.lower()}", *ends, line, size.tails_mm2)
        ends = (name_of(item, out), f"board.{line}")
        yield Joint(f"tail-{line.lower()}-board", *ends, line, size.tails_mm2)


def _cores(layout: Layout, job: Job, kind: str) -> Iterator[Joint]:
    """Yield the cores of one kind of all cables that end in this board."""
    for item in layout.items:
        if item.role not in (Role.CIRCUIT, Role.AS_FOUND) or not item.circuit_id:
            continue
        circuit = job.circuit(item.circuit_id)
        legs = 2 if circuit.topology == "ring" else 1
        for leg in range(1, legs + 1):
            yield from _core(layout, item, circuit, kind, "" if leg == 1 else SECOND_LEG)


def _core(layout: Layout, item: Item, circuit: Circuit, kind: str, leg: str) -> Iterator[Joint]:
    palette = _OLD if circuit.cable.colours == "red and black" else COLOURS
    origin = Origin.EXISTING if circuit.existing else Origin.NEW
    for function, end, csa_mm2 in _core_ends(layout, item, circuit, kind):
        # A one-phase core is brown on whichever phase it is.
        shade = palette["L" if circuit.phases == 1 and kind == "L" else function]
        core = function if circuit.phases != 1 or kind != "L" else "L"
        yield Joint(
            f"x-{circuit.id}-{core.lower()}{leg.replace('.', '-')}",
            f"cable-{circuit.id}{leg}.{core}", end,
            function, csa_mm2, shade, origin, f"cores-{kind.lower()}",
        )  # fmt: skip


def _core_ends(
    layout: Layout, item: Item, circuit: Circuit, kind: str
) -> Iterator[tuple[str, str, float]]:
    if kind == "L":
        for terminal in terminals(item, "load", live="L"):
            yield line_of(item, terminal), name_of(item, terminal), circuit.cable.line_mm2
    elif kind == "N":
        own = terminals(item, "load", live="N")
        bar = layout.neutral_bar(item)
        end = name_of(item, own[0]) if own else (bar.id if bar else "")
        if end and _has_neutral(item, circuit, own=bool(own)):
            yield "N", end, circuit.cable.line_mm2
    elif (earth := layout.earth_bar_of(item)) and circuit.cable.cpc_mm2 > 0:
        yield "PE", earth.id, circuit.cable.cpc_mm2


def _has_neutral(item: Item, circuit: Circuit, *, own: bool) -> bool:
    """Tell whether a circuit has a neutral: every one-phase circuit has."""
    return own or circuit.phases == 1 or "N" in {t.conductor for t in item.device.terminals}
