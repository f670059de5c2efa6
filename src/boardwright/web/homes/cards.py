"""What the list shows of each home, its facts and its board in small, made when it is asked for.

A list of many homes must not wait for them: what is not known yet is left open, and the page asks
for it home by home.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from html import escape
from threading import Lock

from boardwright import __version__
from boardwright.core.errors import BoardwrightError
from boardwright.design import Design
from boardwright.documents.drawing.board_drawing import board_svg, page_ink
from boardwright.documents.look.tokens import stylesheet
from boardwright.documents.words.figures import in_words, sentence
from boardwright.job.job import Job
from boardwright.job.read import parse_job
from boardwright.web.homes.jobs import Jobs
from boardwright.web.look.choice import Look
from boardwright.web.look.drawing import small
from boardwright.web.working.disk import Disk

_WIDTH, _HEIGHT = 400, 240


class Cards:
    """Facts and small drawings, by the text of the job that they are of."""

    def __init__(self, jobs: Jobs, disk: Disk) -> None:
        """Make them with the designs of ``jobs``, and keep them."""
        self._jobs = jobs
        self._disk = disk
        self._one_at_a_time = ThreadPoolExecutor(1, "small")
        self._drawing: set[str] = set()
        self._lock = Lock()

    def known_facts(self, text: str) -> str | None:
        """Return a home's facts where they were made before."""
        return self._disk.get(self._key("facts", text))

    def facts(self, text: str, name: str) -> str:
        """Return a home's facts in one line.

        Raises
        ------
        BoardwrightError
            The text is no job.
        """
        known = self.known_facts(text)
        if known is None:
            known = _facts(parse_job(text, name))
            self._disk.keep(self._key("facts", text), known)
        return known

    def is_drawn(self, text: str) -> bool:
        """Say whether a home's board is drawn."""
        return self._disk.has(self._key("board", text))

    def draw(self, text: str, name: str) -> bool:
        """Have a home's board drawn behind all else; say whether it is."""
        key = self._key("board", text)
        if self._disk.has(key):
            return True
        with self._lock:
            if key not in self._drawing:
                self._drawing.add(key)
                self._one_at_a_time.submit(self._draw, key, lambda: self._designed(text, name))
        return False

    def drawing(self, text: str, look: Look) -> str | None:
        """Return a home's board in small, where it is drawn."""
        kept = self._disk.get(self._key("board", text))
        if kept is None:
            return None
        height, _, svg = kept.partition("\n")
        return small(svg, look, json.loads(height))

    def _designed(self, text: str, name: str) -> Design:
        return self._jobs.designed(parse_job(text, name))

    def _draw(self, key: str, make: Callable[[], Design]) -> None:
        try:
            result = make()
            height_mm = result.chosen.arrangement.enclosure.height_mm
            svg = board_svg(result.chosen, result.job.title, ink=page_ink())
            self._disk.keep(key, f"{json.dumps(height_mm)}\n{svg}")
        except BoardwrightError:
            # Its own page says what is wrong; the list shows an empty board.
            return
        finally:
            with self._lock:
                self._drawing.discard(key)

    def _key(self, of: str, text: str) -> str:
        parts = (of, __version__, self._jobs.own_figures_text(), text)
        return hashlib.sha256("\0".join(parts).encode(errors="replace")).hexdigest()


def empty_board(look: Look) -> str:
    """Return the picture that stands where a board is not drawn yet."""
    chosen = f' data-theme="{look.theme}" data-contrast="{look.contrast}"' if look.theme else ""
    style = escape(stylesheet(), quote=False)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {_HEIGHT}"{chosen}>'
        f"<style>{style}rect{{fill:none;stroke:var(--hair);stroke-width:3}}</style>"
        '<rect x="24" y="24" width="352" height="192" rx="4"/>'
        '<rect x="48" y="84" width="304" height="72" rx="2"/></svg>'
    )


def _facts(job: Job) -> str:
    phases = "single-phase" if job.supply.phases == 1 else "three-phase"
    circuits = in_words(len(job.circuits), "circuit")
    kind = sentence(job.premises.kind).rstrip(".")
    return f"{kind}, {job.supply.system}, {phases}, {circuits}"


__all__ = ["Cards", "empty_board"]
