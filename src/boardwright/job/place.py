"""Where in its file a field stands that a later stage could not use."""

from __future__ import annotations

from pathlib import Path

from boardwright.core.errors import BoardwrightError, FieldError, InputErrors
from boardwright.job.explain import line_of
from boardwright.job.paths import Loc, item_names
from boardwright.job.read import read_text
from boardwright.job.tree import Plain, Section, grow, plain


def placed(error: BoardwrightError, path: Path) -> BoardwrightError:
    """Return an error with the line of the job file that its field stands on.

    An error that has its place, or speaks of no field of the job, is returned as it is.
    """
    if isinstance(error, InputErrors):
        return InputErrors([placed(one, path) for one in error.errors])
    if not isinstance(error, FieldError) or error.place:
        return error
    tree = grow(read_text(path), path.name)
    loc = _loc(error.path, tree)
    return error.at(f"{path.name}, line {line_of(tree, loc)}") if loc else error


def _loc(path: str, tree: Section) -> Loc:
    """Return the steps that a dotted path takes, as far as the file has them."""
    data: Plain = plain(tree)
    steps: list[int | str] = []
    for part in path.split("."):
        if isinstance(data, dict) and part in data:
            steps.append(part)
            data = data[part]
        elif isinstance(data, list) and part in item_names(data):
            steps.append(item_names(data).index(part))
            data = data[item_names(data).index(part)]
        else:
            break
    return tuple(steps)
