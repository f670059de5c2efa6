"""A page set by its template, with the headers that belong to it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse

from boardwright import __version__
from boardwright.core.findings import Finding, Verdict
from boardwright.design import Design
from boardwright.documents.look.marks import ON_PAGE, caution_svg, gauge, mark
from boardwright.documents.words.figures import verdict_word
from boardwright.job.job import Job
from boardwright.web.frame.headers import policy
from boardwright.web.frame.tasks import rule
from boardwright.web.frame.tools import tools_of
from boardwright.web.look.choice import COOKIE, LOOKS, look_of
from boardwright.web.views.findings import Box, stops


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its template and view, and of which job and task it is, if any.

    ``job_id`` is the name in the folder's listing; ``drawing`` the SVG that the view holds;
    ``stops`` what forbids the work, which stands above all else; ``version`` the number that the
    home stands at, which a change goes against.
    """

    template: str
    title: str
    view: object
    job_id: str = ""
    job: Job | None = None
    task: str = ""
    drawing: str = ""
    edition: str = ""
    stops: tuple[Box, ...] = ()
    version: int = 0


def designed(task: str, title: str, view: object, job_id: str, result: Design) -> Page:
    """Return the page of a task whose view rests on a design."""
    page = Page(f"{task}.html", title, view, job_id, result.job, task)
    return replace(page, edition=result.edition.title, stops=stops(result.findings))


def render(request: Request, page: Page, status: int = 200) -> HTMLResponse:
    """Set a page in the look that the person chose."""
    asked = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    text = (
        _environment()
        .get_template(page.template)
        .render(
            page=page,
            view=page.view,
            look=look_of(request.cookies.get(COOKIE)),
            looks=LOOKS,
            rule=rule(page.task) if page.job_id else (),
            back=asked,
            tools=tools_of(request, page),
            version=__version__,
        )
    )
    headers = {
        "Content-Security-Policy": policy(page.drawing),
        "Cache-Control": "no-store",
        "Vary": "Cookie",
    }
    return HTMLResponse(text, status, headers)


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("boardwright.web", "templates"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=StrictUndefined,
    )
    environment.globals.update(mark=_mark, gauge=_gauge, drawn=Markup, caution_sign=_caution)
    environment.globals.update(word=verdict_word, verdicts=Verdict)
    return environment


def _mark(verdict: Verdict) -> Markup:
    """Return the mark without words: its word always stands beside it."""
    shapes = mark(verdict, ON_PAGE)
    return Markup(f'<svg class="mark" viewBox="0 0 24 24" aria-hidden="true">{shapes}</svg>')  # noqa: S704 - shapes of our own


def _gauge(finding: Finding) -> Markup:
    return Markup(gauge(finding, ON_PAGE))  # noqa: S704 - its words are escaped where it is drawn


def _caution() -> Markup:
    """Return the triangle in the colour of the bar it stands on."""
    return Markup(caution_svg({**ON_PAGE, "ink": "currentColor"}))  # noqa: S704 - shapes of our own
