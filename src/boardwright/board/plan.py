"""What goes into an enclosure: one item for each device, before their order is known."""

from __future__ import annotations

from dataclasses import dataclass, field

from boardwright.board.arrange import arrange
from boardwright.board.as_found import CONTINUOUS, found_items
from boardwright.board.match import Ask, device_for
from boardwright.board.offer import is_split, smallest_of_kind, spd_modules
from boardwright.board.results import BoardPlan, Item, Preference, Role, Scheme
from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import DeviceType, Kind
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.circuits.results import AfddNeed, CircuitPlan, CircuitResult, Section
from boardwright.job.board import Wishes
from boardwright.job.circuit import Circuit
from boardwright.job.job import Job
from boardwright.spd.results import SpdChoice


@dataclass(slots=True)
class _Draft:
    """A plan in the making, local to one call."""

    scheme: Scheme
    enclosure: EnclosureType
    job: Job
    plan: CircuitPlan
    catalogue: Catalogue
    items: list[Item] = field(default_factory=list)
    reasons: list[str] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)

    @property
    def range_(self) -> tuple[DeviceType, ...]:
        """The devices that the enclosure's maker allows in it."""
        return self.catalogue.permitted(self.enclosure)

    def add(self, item_id: str, role: Role, device: DeviceType | str, label: str) -> None:
        """Add an item, or what is missing where the device is only a reason."""
        if isinstance(device, str):
            self.missing.append(f"{label}: {device} in family {self.enclosure.family}")
        else:
            section = item_id.removeprefix("rcd-") if role is Role.SECTION_RCD else ""
            self.items.append(Item(item_id, role, device, label, section=section))


def plan_board(  # noqa: PLR0917 - all that a board follows from, in the order of the flow
    scheme: Scheme,
    enclosure: EnclosureType,
    job: Job,
    plan: CircuitPlan,
    spd: SpdChoice,
    catalogue: Catalogue,
) -> BoardPlan:
    """Choose a device for everything that a scheme puts into an enclosure.

    What the catalogue lacks, or the rail has no room for, is told in ``missing``.
    """
    draft = _Draft(scheme, enclosure, job, plan, catalogue)
    if scheme is Scheme.NEW_BOARD:
        _main_switch(draft)
        _spd(draft, spd)
        _incomer_rcd(draft)
        _circuits(draft, job.circuits)
    elif scheme is Scheme.SPARE_WAYS:
        _main_switch(draft)
        _spd(draft, spd)
        _circuits(draft, tuple(circuit for circuit in job.circuits if not circuit.existing))
        _as_found(draft)
    else:
        _spd(draft, spd)
        draft.reasons.append("The board as found stays as it is; only the SPD stands in the box.")
    _unmet(draft)
    _room(draft)
    return BoardPlan(
        scheme,
        enclosure,
        tuple(draft.items),
        tuple(draft.reasons),
        tuple(draft.missing),
        _division(draft),
    )


def _main_switch(draft: _Draft) -> None:
    wanted = draft.enclosure.main_switch
    switch = draft.catalogue.devices.get(wanted, f"the catalogue has no device {wanted!r}")
    draft.add("main-switch", Role.MAIN_SWITCH, switch, "Main switch")


def _spd(draft: _Draft, spd: SpdChoice) -> None:
    if spd.candidate is None:
        draft.reasons.append(f"No SPD on the rail: {spd.reason}")
        allowed = spd_modules(draft.enclosure, draft.job.supply.phases, draft.catalogue)
        if allowed is None and draft.job.surge_environment.declined_by is None:
            draft.missing.append(f"SPD: its maker allows none in {draft.enclosure.family}")
        return
    device, backup = spd.candidate.device, spd.candidate.backup
    if draft.enclosure.family not in device.permitted_families:
        draft.missing.append(
            f"SPD: its maker does not allow {device.id} in {draft.enclosure.family}"
        )
    if backup.device is not None:
        draft.add("spd-backup", Role.SPD_BACKUP, backup.device, "SPD back-up")
    draft.add("spd", Role.SPD, device, "SPD")


def _incomer_rcd(draft: _Draft) -> None:
    """Add the time-delayed RCD ahead of all that a metal board on TT asks for.

    It may be left out where the supply side is insulated to Class II and every circuit has an
    RCBO of its own: then nothing ahead of an RCD can make the metal live.
    """
    supply, enclosure = draft.job.supply, draft.enclosure
    if supply.system != "TT" or not enclosure.metal:
        return
    if supply.submain is not None and supply.submain.rcd_ahead == "yes":
        draft.reasons.append("TT, metal board: an RCD stands ahead of the distribution circuit.")
        return
    if enclosure.class_ii_incomer and not _divided(draft.plan) and _each_has_rcd(draft.plan):
        draft.reasons.append("TT, metal board: its supply side is insulated to Class II.")
        return
    draft.reasons.append("TT, metal board: a time-delayed RCD stands ahead of all circuits.")
    ask = Ask(
        Kind.RCCB,
        phases=supply.phases,
        in_min_a=supply.cutout_fuse_a or enclosure.ina_a,
        poles=4 if supply.phases == 3 else 2,  # noqa: PLR2004 - every live conductor
        rcd_type="A",
        time_delayed=True,
    )
    draft.add("incomer-rcd", Role.INCOMER_RCD, device_for(ask, draft.range_), "RCD, time-delayed")


def _each_has_rcd(plan: CircuitPlan) -> bool:
    return all(circuit.protection.idn_a is not None for circuit in plan.circuits)


def _divided(plan: CircuitPlan) -> bool:
    return any(section.rcd_in_a is not None for section in plan.sections)


def _circuits(draft: _Draft, circuits: tuple[Circuit, ...]) -> None:
    """Add the section RCDs, then each circuit's device."""
    sections = _sections(draft) if draft.scheme is Scheme.NEW_BOARD else {}
    phases = _phases(draft, circuits)
    for circuit in circuits:
        result = draft.plan.circuit(circuit.id)
        section = sections.get(circuit.id, "")
        device = device_for(_ask(circuit, result, sectioned=bool(section)), draft.range_)
        if isinstance(device, str):
            draft.missing.append(f"{circuit.name}: {device} in family {draft.enclosure.family}")
            continue
        draft.items.append(_way(circuit, result, device, section, phases.get(circuit.id, "")))


def _sections(draft: _Draft) -> dict[str, str]:
    """Add the RCD of each section; return the section of each circuit behind one."""
    behind: dict[str, str] = {}
    for section in draft.plan.sections:
        if section.rcd_in_a is None:
            continue
        letter = section.id.removeprefix("rcd-")
        behind |= dict.fromkeys(section.circuit_ids, letter)
        device = device_for(_section_ask(section), draft.range_)
        draft.add(f"rcd-{letter}", Role.SECTION_RCD, device, f"RCD {letter.upper()}")
    if behind and not draft.plan.division_proven:
        draft.reasons.append("Which circuits share an RCD: the best found; not proven.")
    if behind and draft.enclosure.phases == 3:  # noqa: PLR2004 - the comb has no section
        draft.missing.append("Split load: a three-phase comb is not divided into sections")
    elif behind and not is_split(draft.enclosure):
        draft.missing.append(
            f"Split load: {draft.enclosure.id} has no neutral bar for each section"
        )
    return behind


def _division(draft: _Draft) -> tuple[Preference, ...]:
    """Return what the division of the home over its RCDs pays, where this board has one."""
    if not any(item.role is Role.SECTION_RCD for item in draft.items):
        return ()
    return tuple(
        Preference(wish.name, float(wish.weight), float(wish.weight * wish.amount), wish.key)
        for wish in draft.plan.division
    )


def _section_ask(section: Section) -> Ask:
    return Ask(
        Kind.RCCB,
        in_min_a=section.rcd_in_a,
        poles=2,
        rcd_type=section.rcd_type,
        idn_a=section.idn_a,
    )


def _ask(circuit: Circuit, result: CircuitResult, *, sectioned: bool) -> Ask:
    """Return what a circuit asks of its device on this board."""
    asked = result.protection
    needs_rcd = bool(asked.rcd_type) and not sectioned
    if asked.afdd is AfddNeed.REQUIRED or circuit.wanted.afdd == "yes":
        kind = Kind.AFDD
    else:
        kind = Kind.RCBO if needs_rcd else Kind.MCB
    with_rcd = kind is not Kind.MCB and needs_rcd
    return Ask(
        kind,
        phases=asked.phases,
        in_a=asked.in_a,
        curve=asked.curve,
        # Behind a two-pole RCD the way itself may switch the line alone.
        poles=1 if sectioned else asked.poles,
        rcd_type=asked.rcd_type if with_rcd else "",
        idn_a=asked.idn_a if with_rcd else None,
        bidirectional=asked.bidirectional,
    )


def _way(
    circuit: Circuit, result: CircuitResult, device: DeviceType, section: str, phase: str
) -> Item:
    return Item(
        id=f"way-{circuit.id}",
        role=Role.CIRCUIT,
        device=device,
        label=circuit.name,
        short=circuit.label,
        circuit_id=circuit.id,
        section=section,
        phase=phase,
        ib_a=result.ib_a,
        continuous=circuit.serves in CONTINUOUS,
        found_way=circuit.way,
        reach_mm=circuit.cable.reach_mm if circuit.existing else None,
    )


def _phases(draft: _Draft, circuits: tuple[Circuit, ...]) -> dict[str, str]:
    """Return the phase of each one-phase circuit, none on a one-phase board."""
    if draft.enclosure.phases == 1:
        return {}
    return {c.id: draft.plan.circuit(c.id).phase for c in circuits if c.phases == 1}


def _as_found(draft: _Draft) -> None:
    existing = draft.job.existing_board
    if existing is not None:
        draft.items += found_items(
            existing, draft.enclosure, draft.job, draft.plan, draft.catalogue
        )
        draft.reasons.append("Every device as found keeps its way.")


def _room(draft: _Draft) -> None:
    """Tell in ``missing`` what the rail has no room for."""
    taken = sum(item.device.modules for item in draft.items)
    room = draft.enclosure.modules
    if taken > room:
        draft.missing.append(
            f"Ways: the devices take {taken} modules, the rail has {room}; {taken - room} too many"
        )
        return
    draft.reasons.append(f"{_free(room - taken)} of {room}.")
    _trial(draft)
    larger = _larger_by(draft, taken + draft.job.wishes.spare_ways)
    if larger is not None:
        draft.missing.append(
            f"Spare ways: {_free(room - taken)}, {draft.job.wishes.spare_ways} are wished for, "
            f"and {larger.id} has them"
        )


def _free(modules: int) -> str:
    return "1 module stays free" if modules == 1 else f"{modules} modules stay free"


def _trial(draft: _Draft) -> None:
    """Tell in ``missing`` what finds no place although there are modules enough.

    On a comb the teeth of a phase may run out, between devices as found or at the end of a rail a
    run of free ways: only a trial shows it.
    """
    comb = any(busbar.phases > 1 for busbar in draft.enclosure.busbars)
    if not comb and draft.scheme is not Scheme.SPARE_WAYS and len(draft.enclosure.rails) == 1:
        return
    board = BoardPlan(draft.scheme, draft.enclosure, tuple(draft.items), ())
    labels = {item.id: item.label for item in draft.items}
    why = "no tooth of its phase is free" if comb else "no run of free ways is wide enough"
    for item_id in arrange(board, Wishes(), ()).left_out:
        draft.missing.append(f"Ways: {why} for {labels[item_id]}")


def _unmet(draft: _Draft) -> None:
    """Tell which wishes about the enclosure could not be met."""
    wishes, enclosure = draft.job.wishes, draft.enclosure
    if draft.scheme is not Scheme.NEW_BOARD or wishes.enclosure:
        return
    if wishes.maker not in {"", enclosure.maker}:
        draft.reasons.append(
            f"{wishes.maker} was wished for; {enclosure.maker} makes what serves here."
        )
    if wishes.hand not in {"either", enclosure.hand}:
        draft.reasons.append(
            f"A main switch on the {wishes.hand} was wished for; it stands on the {enclosure.hand}."
        )


def _larger_by(draft: _Draft, wanted: int) -> EnclosureType | None:
    """Return the next larger enclosure of the kind, where this one is short of ``wanted``.

    None where nothing is short, where no larger one is made, or where the job names this one.
    """
    own = draft.enclosure
    if draft.scheme is not Scheme.NEW_BOARD or draft.job.wishes.enclosure or own.modules >= wanted:
        return None
    return smallest_of_kind(own, wanted, draft.catalogue)


def spare_shortfall(board: BoardPlan, wished: int) -> int:
    """Return by how many modules the free places fall short of the spare ways wished for."""
    taken = sum(item.device.modules for item in board.items)
    return max(0, wished - (board.enclosure.modules - taken))
