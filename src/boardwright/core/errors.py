"""What the program says when an input cannot be used.

::

    BoardwrightError          every error that a person is meant to read
    ├── FieldError            one field of a file or form, with its place
    ├── FileError             a file that cannot be read or written at all
    └── InputErrors           several of the above, reported together

Errors are for unusable input; a bad installation is a finding.
"""

from __future__ import annotations

from collections.abc import Sequence

_LONGEST_SHOWN = 80
"""A found value is quoted up to this many signs; more would bury the sentence."""


class BoardwrightError(Exception):
    """An error that a person is meant to read: one sentence, no traceback."""


class FieldError(BoardwrightError):
    """A field cannot be used as it stands."""

    def __init__(
        self, path: str, found: object, expected: str, *, remedy: str = "", place: str = ""
    ) -> None:
        """Say which field, what was found, what would be right.

        Parameters
        ----------
        path
            Dotted path of the field, as in ``supply.ze_ohm``.
        found
            The value that was read.
        expected
            What would be right, completing "expected …".
        remedy
            What to do, one sentence, or empty.
        place
            File and line, as in ``semi.yaml, line 12``, or empty.
        """
        self.path = path
        self.found = found
        self.expected = expected
        self.remedy = remedy
        self.place = place
        super().__init__(self._sentence())

    def _sentence(self) -> str:
        shown = repr(self.found)
        if len(shown) > _LONGEST_SHOWN:
            shown = f"{shown[:_LONGEST_SHOWN]}…"
        start = f"{self.place}: " if self.place else ""
        end = f" {self.remedy}" if self.remedy else ""
        return f"{start}{self.path}: found {shown}, expected {self.expected}.{end}"

    def at(self, place: str) -> FieldError:
        """Return the same error with the file and line it came from."""
        return FieldError(self.path, self.found, self.expected, remedy=self.remedy, place=place)


class FileError(BoardwrightError):
    """A file cannot be read or written."""


class InputErrors(BoardwrightError):  # noqa: N818  it holds several errors
    """Several errors of one input, so that all can be mended at once."""

    def __init__(self, errors: Sequence[BoardwrightError]) -> None:
        """Join the errors, one line each."""
        self.errors = tuple(errors)
        super().__init__("\n".join(str(error) for error in errors))
