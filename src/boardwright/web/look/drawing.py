"""The board drawing on the page: anchors on its conductors, the view closed in, the small form.

The drawing itself is made in one place, for file, print and page; here it only gains what a
page needs, by the names that it carries for that purpose.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

from boardwright.documents.look.tokens import stylesheet
from boardwright.web.look.choice import Look
from boardwright.wiring.results import Conductor, Point

SHAPE = 3 / 2
"""Width over height of the picture of a step, on the phone as on the tablet."""

MARGIN_MM = 20.0
"""Left around both ends of a conductor when the view closes in. [mm]"""

LEAST_MM = 120.0
"""The narrowest closed-in view: nearer, nothing shows where on the board one is. [mm]"""

_WIRE = re.compile(
    r'<g class="(?P<kind>wire[^"]*)" data-wire="(?P<id>[^"]+)" data-step="(?P<step>\d*)">'
    r"<title>(?P<title>[^<]*)</title>(?P<body>.*?)</g>",
    re.DOTALL,
)
_VIEW = re.compile(r'width="[\d.]+mm" height="[\d.]+mm" viewBox="(?P<box>[-\d. ]+)"')


@dataclass(frozen=True, slots=True)
class View:
    """A window on the drawing, in the drawing's frame. [mm]"""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float

    @property
    def box(self) -> str:
        """The window as SVG writes it."""
        return f"{self.x_mm:.1f} {self.y_mm:.1f} {self.width_mm:.1f} {self.height_mm:.1f}"


def view_of(svg: str) -> View:
    """Return the whole view of a drawing."""
    found = _VIEW.search(svg)
    if found is None:
        raise ValueError("the board drawing states no view")
    return View(*(float(part) for part in found["box"].split()))


def linked(svg: str) -> str:
    """Return the drawing with each new conductor a link to its row, and the row's target."""

    def anchor(found: re.Match[str]) -> str:
        if "existing" in found["kind"]:
            return found[0]
        wire = found["id"]
        return (
            f'<a class="pick" id="wire-{wire}" href="#row-{wire}" data-wire="{wire}"'
            f' aria-label="{found["title"]}">{found[0]}</a>'
        )

    # An image hides its parts from a screen reader; a group lets the links be reached.
    grouped = _WIRE.sub(anchor, svg).replace('role="img"', 'role="group"', 1)
    return shown(grouped, view_of(svg))


def played(svg: str, states: Mapping[str, str], *, items: tuple[str, ...] = ()) -> str:
    """Return the drawing at a step: each conductor done, now or ahead, and the items in hand."""
    for wire, state in states.items():
        svg = re.sub(
            rf'class="([^"]*)"( data-wire="{re.escape(escape(wire))}")',
            rf'class="\1 {state}"\2',
            svg,
        )
    for item in items:
        svg = svg.replace(
            f'class="device" data-item="{escape(item)}"',
            f'class="device now" data-item="{escape(item)}"',
        )
    return svg


def shown(svg: str, view: View) -> str:
    """Return the drawing seen through a window, as wide as the page gives it."""
    return _VIEW.sub(f'viewBox="{view.box}"', svg, count=1)


def close_in(conductors: tuple[Conductor, ...], whole: View, height_mm: float) -> View:
    """Return the window on all of some conductors, 20 mm around them, in the picture's shape.

    ``height_mm`` is the enclosure's: the model's y runs up from its bottom, the drawing's down.
    """
    points = [_flat(point, height_mm) for c in conductors for point in c.path]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    width = max(max(xs) - min(xs) + 2 * MARGIN_MM, LEAST_MM)
    height = max(max(ys) - min(ys) + 2 * MARGIN_MM, width / SHAPE)
    width = max(width, height * SHAPE)
    x, y = (min(xs) + max(xs) - width) / 2, (min(ys) + max(ys) - height) / 2
    return View(_inside(x, width, whole.x_mm, whole.width_mm), y, width, height)


def small(svg: str, look: Look, height_mm: float) -> str:
    """Return the drawing as a picture of its own: no letters, and the theme's colours inside it.

    Without a chosen theme the picture follows the system, as the page does. ``height_mm`` is
    the enclosure's: what stands below it is left out.
    """
    chosen = f' data-theme="{look.theme}" data-contrast="{look.contrast}"' if look.theme else ""
    plain = "text,.tags,.flags,.key,.wayrule,.rings{display:none}"
    # The document's root is the drawing itself, so the tokens apply as they stand.
    svg = svg.replace("<style>", f"<style>{escape(stylesheet(), quote=False)}{plain}", 1)
    whole = view_of(svg)
    cut = View(whole.x_mm, whole.y_mm, whole.width_mm, height_mm - whole.y_mm + MARGIN_MM / 4)
    return shown(svg, cut).replace("<svg ", f"<svg{chosen} ", 1)


def _flat(point: Point, height_mm: float) -> tuple[float, float]:
    return point[0], height_mm - point[1]


def _inside(start_mm: float, length_mm: float, low_mm: float, span_mm: float) -> float:
    """Keep a window within the drawing where it is the narrower of the two."""
    if length_mm >= span_mm:
        return low_mm + (span_mm - length_mm) / 2
    return min(max(start_mm, low_mm), low_mm + span_mm - length_mm)
