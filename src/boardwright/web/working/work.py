"""Long work of the page: how far it is, and an end to it when the person has seen enough."""

from __future__ import annotations

import logging
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from threading import Lock

from boardwright.core.errors import BoardwrightError
from boardwright.design import Told

_log = logging.getLogger(__name__)

KEPT = 64
"""How many works can be asked about; the oldest is forgotten first."""
AT_ONCE = 2

WAITING, RUNNING, DONE, STOPPED, FAILED = "waiting", "running", "done", "stopped", "failed"


class UnknownWork(BoardwrightError):  # noqa: N818 - it is no error of the job's
    """No work goes by that name."""


class _Stopped(BaseException):
    """Ends a work from within; no handler of errors may take it for one."""


@dataclass(slots=True)
class Work:
    """One work: its name, what is being done, which fraction is done, and why it failed."""

    name: str
    state: str = WAITING
    words: str = "waiting"
    fraction: float = 0.0
    error: str = ""
    asked_to_stop: bool = False

    @property
    def is_over(self) -> bool:
        """Tell whether nothing more will come of it."""
        return self.state in (DONE, STOPPED, FAILED)

    def told(self, words: str, fraction: float) -> None:
        """Take note of how far it is; end it where that was asked for."""
        if self.asked_to_stop:
            raise _Stopped
        self.words, self.fraction = words, max(self.fraction, fraction)


class Works:
    """The works of a server, two at a time; who asks for one that runs already joins it."""

    def __init__(self) -> None:
        self._works: OrderedDict[str, Work] = OrderedDict()
        self._lock = Lock()
        self._pool: ThreadPoolExecutor | None = None

    def begin(self, name: str, make: Callable[[Told], object]) -> Work:
        """Begin a work, or join the one of that name that is not over."""
        with self._lock:
            work = self._works.get(name)
            if work is not None and not work.is_over and not work.asked_to_stop:
                return work
            work = self._works[name] = Work(name)
            self._works.move_to_end(name)
            while len(self._works) > KEPT:
                # Whoever asks for ever more gets the last; what nobody waits for any more ends.
                self._works.popitem(last=False)[1].asked_to_stop = True
            self._pool = self._pool or ThreadPoolExecutor(AT_ONCE, "work")
            self._pool.submit(_run, work, make)
            return work

    def look(self, name: str) -> Work:
        """Return a work by its name.

        Raises
        ------
        UnknownWork
            It was never begun, or is long over.
        """
        with self._lock:
            if name not in self._works:
                raise UnknownWork("No work here goes by that name.")
            return self._works[name]

    def stop(self, name: str) -> Work:
        """Ask a work to end; it ends at its next step, and nothing of it is kept."""
        work = self.look(name)
        work.asked_to_stop = True
        return work


def _run(work: Work, make: Callable[[Told], object]) -> None:
    try:
        work.told("begun", 0.0)
        work.state = RUNNING
        make(work.told)
    except _Stopped:
        work.state = STOPPED
    except BoardwrightError as error:
        work.error, work.state = str(error), FAILED
    except Exception:
        # Nobody looks at what a thread of the pool raises.
        _log.exception("a design could not be worked out")
        work.error, work.state = "The fault is the program's, not yours.", FAILED
        raise
    else:
        work.fraction, work.state = 1.0, DONE


__all__ = ["UnknownWork", "Work", "Works"]
