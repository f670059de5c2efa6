"""Checks on the board: what stands in it, whether it fits, what switches and feeds it."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.legal import faults
from boardwright.board.offer import smallest_of_kind
from boardwright.board.results import Arrangement, BoardPlan, Role, Scheme
from boardwright.core.findings import Finding, Rule, Sense, Verdict
from boardwright.verification.check import check
from boardwright.verification.facts import Facts

SUBJECT = "Board"
SUBJECT_ID = "board"


def _finding(
    check_id: str, verdict: Verdict, message: str, rule: Rule, remedy: str = ""
) -> Finding:
    return Finding(
        check=check_id,
        verdict=verdict,
        subject=SUBJECT,
        subject_id=SUBJECT_ID,
        message=message,
        rule=rule,
        remedy=remedy,
    )


@check
def everything_fits(facts: Facts) -> Iterator[Finding]:
    """Everything planned must be on offer and find its place on the rail."""
    board, arrangement = facts.board, facts.arrangement
    if board is None:
        return
    taken = sum(item.device.modules for item in board.items)
    room = board.enclosure.modules
    wanting = [*_wanting(board), *_left_out(board, arrangement)]
    message = (
        "; ".join(wanting)
        if wanting
        else f"All {len(board.items)} devices stand on the rail; {room - taken} modules stay free"
    )
    yield Finding(
        check="board.fits",
        verdict=Verdict.FAIL if wanting else Verdict.PASS,
        subject=SUBJECT,
        subject_id=SUBJECT_ID,
        message=f"{message}.",
        rule=facts.edition.rule("assembly.legal"),
        value=float(taken),
        limit=float(room),
        unit="modules",
        remedy=_smallest_change(facts, board, taken) if wanting else "",
    )


def _wanting(board: BoardPlan) -> Iterator[str]:
    # Fewer spare ways than wished for is advice, and has a finding of its own.
    yield from (reason for reason in board.missing if not reason.startswith("Spare ways"))


def _left_out(board: BoardPlan, arrangement: Arrangement | None) -> Iterator[str]:
    if arrangement is not None and arrangement.left_out:
        names = {item.id: item.label for item in board.items}
        left = ", ".join(names[item_id] for item_id in arrangement.left_out)
        yield f"no place on the rail for {left}"


def _smallest_change(facts: Facts, board: BoardPlan, taken: int) -> str:
    """Return the least change with which all would fit."""
    room = board.enclosure.modules
    if any(reason.startswith("SPD:") for reason in board.missing):
        return _another_spd(facts, board)
    if taken <= room and not (facts.arrangement and facts.arrangement.left_out):
        return "Choose another rating, another maker's board, or add the device to the catalogue."
    if board.scheme is Scheme.SPARE_WAYS:
        return "Take a narrower SPD, hang it in a box beside the board, or plan a new board."
    larger = smallest_of_kind(board.enclosure, max(taken, room + 1), facts.catalogue)
    if larger is not None:
        return f"Take {larger.name} ({larger.id}), {larger.modules} modules."
    spd = sum(i.device.modules for i in board.items if i.role in {Role.SPD, Role.SPD_BACKUP})
    if board.scheme is Scheme.NEW_BOARD and 0 < taken - room <= spd:
        return "Put the SPD into a box of its own beside the board, if its leads stay short."
    return f"Plan with {max(1, taken - room)} modules fewer, or share the ways over two boards."


def _another_spd(facts: Facts, board: BoardPlan) -> str:
    """Return the SPDs that the enclosure's maker allows in it, else a box of its own."""
    phases = facts.job.supply.phases
    allowed = sorted(
        device.id
        for device in facts.catalogue.permitted(board.enclosure)
        if device.spd is not None and device.spd.phases == phases
    )
    if allowed:
        return (
            f"Take an SPD that the maker of {board.enclosure.family} allows: {', '.join(allowed)}."
        )
    return "Put the SPD into a box of its own beside the board, or take another maker's board."


@check
def every_device_is_of_the_family(facts: Facts) -> Iterator[Finding]:
    """Devices must be declared for the assembly by its maker (510.3, 536.4.203)."""
    if facts.board is None:
        return
    family = facts.board.enclosure.family
    new = [item for item in facts.board.items if item.role is not Role.AS_FOUND]
    strangers = [item for item in new if family not in item.device.permitted_families]
    rule = facts.edition.rule("assembly.family")
    for item in strangers:
        yield Finding(
            check="board.family",
            verdict=Verdict.FAIL,
            subject=item.label,
            subject_id=item.id,
            message=f"{item.device.name} ({item.device.id}) is not declared for family {family}.",
            rule=rule,
            remedy=f"Take a device that the maker of {family} declares for it.",
        )
    if not strangers:
        message = f"All {len(new)} new devices are declared for family {family} by the makers."
        yield _finding("board.family", Verdict.PASS, message, rule)


@check
def phases_agree(facts: Facts) -> Iterator[Finding]:
    """Boards of one phase feed no three-phase home, nor the other way round (134.1.1)."""
    board = facts.board
    if board is None or board.scheme is Scheme.SEPARATE_BOX:
        return
    phases = facts.job.supply.phases
    if board.enclosure.phases != phases:
        yield _finding(
            "board.phases",
            Verdict.FAIL,
            f"The enclosure {board.enclosure.id} is for {_phases(board.enclosure.phases)}; the "
            f"supply has {_phases(phases)}.",
            facts.edition.rule("assembly.legal"),
            f"Take an enclosure for {_phases(phases)}, or leave the choice open.",
        )


def _phases(count: int) -> str:
    return "one phase" if count == 1 else "three phases"


@check
def enclosure_does_not_burn(facts: Facts) -> Iterator[Finding]:
    """Enclosures of consumer units must not be combustible (421.1.201)."""
    if facts.board is None:
        return
    rule = facts.edition.rule("enclosure.non_combustible")
    enclosure = facts.board.enclosure
    if enclosure.combustible:
        yield _finding(
            "board.combustible",
            Verdict.FAIL,
            f"The enclosure {enclosure.id} is combustible.",
            rule,
            "Take a steel enclosure, or a non-combustible cabinet around it.",
        )
        return
    yield _finding(
        "board.combustible", Verdict.PASS, f"The enclosure {enclosure.id} is not combustible.", rule
    )
    if facts.board.scheme is not Scheme.NEW_BOARD:
        yield from _kept_board_burns(facts, rule)


def _kept_board_burns(facts: Facts, rule: Rule) -> Iterator[Finding]:
    existing = facts.job.existing_board
    if existing is None or existing.combustible == "no":
        return
    if existing.combustible is None:
        verdict, message = (
            Verdict.UNKNOWN,
            "Whether the board as found is combustible is not known.",
        )
        remedy = "Look whether its enclosure is steel or moulded."
    else:
        # The material alone condemns no board that stays; its state may.
        verdict, message = Verdict.ADVISE, "The board as found is combustible and stays."
        remedy = "Look for heat marks and loose terminals; tell the owner of a steel board."
    yield Finding("board.combustible", verdict, "Board as found", message, rule, remedy=remedy)


@check
def assembly_carries_the_fuse(facts: Facts) -> Iterator[Finding]:
    """InA must cover the fuse ahead, or the sum of the outgoing devices (536.4.202)."""
    board = facts.board
    if board is None or board.scheme is Scheme.SEPARATE_BOX:
        return
    common = [b.in_a for b in board.enclosure.busbars if not b.section]
    limit_a = min([board.enclosure.ina_a, *common])
    rule = facts.edition.rule("assembly.overload")
    fuse_a = _fuse_a(facts)
    if fuse_a is None:
        yield _finding(
            "board.busbar",
            Verdict.UNKNOWN,
            f"The fuse ahead is not known; assembly and busbar carry {limit_a:g} A.",
            rule,
            "Read the cut-out's label, or ask the network operator.",
        )
        return
    yield _within_ina(board, fuse_a, limit_a, rule)


def _within_ina(board: BoardPlan, fuse_a: float, limit_a: float, rule: Rule) -> Finding:
    outgoing_a = sum(i.device.in_a or 0.0 for i in board.items if i.role in _OUTGOING)
    by_sum = fuse_a > limit_a >= outgoing_a
    value_a, what = (
        (outgoing_a, "sum of the outgoing devices") if by_sum else (fuse_a, "fuse ahead")
    )
    passed = value_a <= limit_a
    return Finding(
        check="board.busbar",
        verdict=Verdict.PASS if passed else Verdict.FAIL,
        subject=SUBJECT,
        subject_id=SUBJECT_ID,
        message=f"The {what} is {value_a:g} A; assembly and busbar are rated {limit_a:g} A.",
        rule=rule,
        value=value_a,
        limit=limit_a,
        unit="A",
        remedy="" if passed else "Take an assembly of that rating, or have a smaller fuse fitted.",
    )


_OUTGOING = frozenset({Role.CIRCUIT, Role.AS_FOUND})


def _fuse_a(facts: Facts) -> float | None:
    supply = facts.job.supply
    return supply.submain.fuse_a if supply.submain else supply.cutout_fuse_a


@check
def main_switch_breaks_all_lines(facts: Facts) -> Iterator[Finding]:
    """Every live conductor must be broken by a home's main switch (462.1.201)."""
    if facts.board is None or facts.board.scheme is Scheme.SEPARATE_BOX:
        return
    three = facts.job.supply.phases == 3  # noqa: PLR2004 - three phases
    if three:
        key, limit = "three", facts.edition.number("isolation.poles_three_phase")
        rule = facts.edition.rule("isolation.poles_three_phase")
    else:
        key, limit = "single", facts.edition.number("isolation.poles_single_phase")
        rule = facts.edition.rule("isolation.poles_single_phase")
    poles = _switch_poles(facts, facts.board)
    yield Finding(
        check="board.main_switch",
        verdict=_poles_verdict(facts, poles, limit),
        subject="Main switch",
        subject_id="main-switch",
        message=f"The main switch breaks {poles or '?'} poles of a {key}-phase supply.",
        rule=rule,
        value=None if poles is None else float(poles),
        limit=limit,
        unit="poles",
        sense=Sense.AT_LEAST,
        remedy="" if poles and poles >= limit else f"A switch of {limit:g} poles is asked for.",
    )


def _switch_poles(facts: Facts, board: BoardPlan) -> int | None:
    if board.scheme is Scheme.SPARE_WAYS and facts.job.existing_board is not None:
        return facts.job.existing_board.main_switch_poles
    return next((i.device.poles for i in board.items if i.role is Role.MAIN_SWITCH), 0)


def _poles_verdict(facts: Facts, poles: int | None, limit: float) -> Verdict:
    if poles is None:
        return Verdict.UNKNOWN
    if poles >= limit:
        return Verdict.PASS
    # On TN the neutral of a three-phase board may stay linked (461.2); it is a worse switch.
    linked_neutral = poles == limit - 1 and facts.job.supply.phases > 1
    tn = facts.job.supply.system != "TT"
    return Verdict.ADVISE if linked_neutral and tn else Verdict.FAIL


@check
def rail_is_legal(facts: Facts) -> Iterator[Finding]:
    """Places found by the search must hold before a judge that does not know the search."""
    if facts.arrangement is None:
        return
    rule = facts.edition.rule("assembly.legal")
    wrong = faults(facts.arrangement)
    for fault in wrong:
        yield _finding("board.rail", Verdict.FAIL, f"On the rail: {fault}.", rule, "Report it.")
    if not wrong:
        message = f"Every device has a lawful place. {facts.arrangement.note}"
        yield _finding("board.rail", Verdict.PASS, message, rule)


@check
def spare_ways_remain(facts: Facts) -> Iterator[Finding]:
    """As many ways stay free as were wished for."""
    if facts.arrangement is None or facts.arrangement.scheme is not Scheme.NEW_BOARD:
        return
    free, wished = max(0, facts.arrangement.spare_modules), facts.job.wishes.spare_ways
    yield Finding(
        check="board.spare_ways",
        verdict=Verdict.PASS if free >= wished else Verdict.ADVISE,
        subject=SUBJECT,
        subject_id=SUBJECT_ID,
        message=f"{free} ways stay free, {wished} were wished for.",
        rule=facts.edition.rule("board.spare_ways"),
        value=float(free),
        limit=float(wished),
        unit="ways",
        sense=Sense.AT_LEAST,
        remedy="" if free >= wished else "Take a larger enclosure, or tell the owner.",
    )
