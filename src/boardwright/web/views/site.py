"""One step of the order of work: its caution, its picture, its sentence, its figures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import groupby

from boardwright.core.errors import FieldError
from boardwright.design import Design, Variant
from boardwright.documents.drawing.board_drawing import board_svg, page_ink
from boardwright.documents.words.conductor_words import (
    cut_words,
    function_words,
    size_words,
    strip_words,
    torque_words,
)
from boardwright.documents.words.figures import TO, number
from boardwright.web.look.drawing import close_in, played, shown, view_of
from boardwright.web.views.photos import Shot
from boardwright.web.views.ticks import Ticks, key_of
from boardwright.wiring.results import Conductor, Origin, Phase, Step

_WITHOUT_BOARD = (Phase.BEFORE, Phase.ISOLATE, Phase.HAND_OVER)
"""Parts of the day whose steps are not done inside the board: a picture would be in the way."""

_RULE_MM = 34.0
"""Below the enclosure stand the way numbers; the key below them is for the board's page. [mm]"""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure at arm's length; ``swatch`` names the conductor whose colours stand before it."""

    label: str
    value: str
    unit: str
    swatch: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class StepLink:
    """One step in the list of all."""

    number: int
    title: str
    now: bool
    state: str = ""


@dataclass(frozen=True, slots=True)
class SiteView:
    """One step. ``drawing`` is empty where the step is not done in the board."""

    number: int
    count: int
    phase: str
    title: str
    text: str
    tool: str
    check: str
    live: bool
    caution_first: str
    caution_rest: str
    drawing: str
    whole: bool
    whole_box: str
    can_close_in: bool
    figures: tuple[Figure, ...]
    phases: tuple[tuple[str, tuple[StepLink, ...]], ...]
    key: str
    ticks: Ticks
    left_handed: bool = False
    photos: tuple[Shot, ...] = ()

    @property
    def previous(self) -> int | None:
        """The step before, if any."""
        return self.number - 1 if self.number > 1 else None

    @property
    def next(self) -> int | None:
        """The step after, if any."""
        return self.number + 1 if self.number < self.count else None


def site_view(design: Design, number: int, ticks: Ticks, *, whole: bool) -> SiteView:
    """Return one step, counted from 1, and how far the work is; ``whole`` shows all of the board.

    Raises
    ------
    FieldError
        There is no such step.
    """
    steps = design.chosen.wiring.steps
    if not 1 <= number <= len(steps):
        raise FieldError("step", number, f"a step from 1 to {len(steps)}")
    step = steps[number - 1]
    joined = _joined(step, design.chosen)
    close = bool(joined) and not whole
    first, rest = _caution(step, ticks)
    drawing, whole_box = "", ""
    if step.phase not in _WITHOUT_BOARD:
        drawing, whole_box = _drawing(design, step, joined, close=close)
    return SiteView(
        number=number,
        count=len(steps),
        phase=step.phase.value,
        title=step.title,
        text=_text(step, joined),
        tool=step.tool,
        check=step.check,
        live=step.live,
        caution_first=first,
        caution_rest=rest,
        drawing=drawing,
        whole=not close,
        whole_box=whole_box if close else "",
        can_close_in=bool(joined),
        figures=_figures(joined),
        phases=_phases(steps, number, ticks),
        key=key_of(step),
        ticks=ticks,
    )


def _text(step: Step, joined: tuple[Conductor, ...]) -> str:
    """Return what to do; for one conductor only where it goes, since its figures stand below."""
    where, stop, _ = step.text.partition(". ")
    return f"{where}." if stop and len(joined) == 1 else step.text


def _joined(step: Step, variant: Variant) -> tuple[Conductor, ...]:
    return tuple(c for c in variant.wiring.conductors if c.id in step.conductors and c.path)


def _drawing(
    design: Design, step: Step, joined: tuple[Conductor, ...], *, close: bool
) -> tuple[str, str]:
    """Return the drawing at a step, and the view it closes in from."""
    variant = design.chosen
    svg = board_svg(variant, design.job.title, ink=page_ink())
    whole = view_of(svg)
    height_mm = variant.arrangement.enclosure.height_mm
    without_key = replace(whole, height_mm=height_mm - whole.y_mm + _RULE_MM)
    view = close_in(joined, whole, height_mm) if close else without_key
    states = {c.id: _state(c, step) for c in variant.wiring.conductors}
    items = (f"way-{step.circuit_id}",) if step.circuit_id else ()
    return shown(played(svg, states, items=items), view), whole.box


def _state(conductor: Conductor, step: Step) -> str:
    if conductor.id in step.conductors:
        return "now"
    if conductor.origin is Origin.EXISTING and not conductor.step:
        return "done"
    return "done" if 0 < conductor.step < step.number else "ahead"


def _caution(step: Step, ticks: Ticks) -> tuple[str, str]:
    """Part a caution after its first phrase, which says what is true now, and since when."""
    first, stop, rest = step.caution.partition(". ")
    if ticks.proved_dead and first.startswith("Dead"):
        return f"Dead, proved {ticks.proved_dead}.", rest
    return f"{first}{stop.strip()}", rest


def _figures(joined: tuple[Conductor, ...]) -> tuple[Figure, ...]:
    if not joined:
        return ()
    first = joined[0]
    lengths_mm = [c.length_mm for c in joined if cut_words(c)]
    cut = _range(lengths_mm) if lengths_mm else ""
    found = (
        Figure("Conductor", _each(joined, size_words), "mm²", first.function, _functions(joined)),
        Figure("Cut", cut, "mm"),
        Figure("Strip", _each(joined, strip_words), "mm"),
        Figure("Torque", _each(joined, torque_words), "N·m"),
    )
    return tuple(figure for figure in found if figure.value)


def _range(lengths_mm: list[float]) -> str:
    """Return lengths to cut as one figure or a range, in whole mm as the papers have them."""
    ends = [round(min(lengths_mm)), round(max(lengths_mm))]
    return TO.join(dict.fromkeys(number(end) for end in ends))


def _functions(joined: tuple[Conductor, ...]) -> str:
    return ", ".join(dict.fromkeys(function_words(c) for c in joined))


def _each(joined: tuple[Conductor, ...], words: Callable[[Conductor], str]) -> str:
    return " · ".join(dict.fromkeys(filter(None, (words(c) for c in joined))))


def _phases(
    steps: tuple[Step, ...], number: int, ticks: Ticks
) -> tuple[tuple[str, tuple[StepLink, ...]], ...]:
    return tuple(
        (phase.value, tuple(_link(step, number, ticks) for step in group))
        for phase, group in groupby(steps, key=lambda step: step.phase)
    )


def _link(step: Step, number: int, ticks: Ticks) -> StepLink:
    return StepLink(step.number, step.title, step.number == number, ticks.state(key_of(step)))
