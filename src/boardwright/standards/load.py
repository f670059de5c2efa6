"""Read an edition's files and the user's own confirmations into one Edition."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from boardwright.core.errors import FieldError
from boardwright.core.findings import Known
from boardwright.standards.confirm import confirm
from boardwright.standards.digest import digest_of
from boardwright.standards.edition import Edition, Entry, Table

FOLDER = Path(__file__).parent / "editions"
"""Where the editions lie, one folder each."""

DEFAULT = "bs7671_2018_a4"
"""The edition of new work."""


def editions() -> tuple[str, ...]:
    """Return the names of the editions that exist."""
    return tuple(sorted(path.parent.name for path in FOLDER.glob("*/edition.toml")))


def load_edition(name: str, overrides: Path | None = None) -> Edition:
    """Return an edition, with the user's confirmations if a file of them is given.

    Parameters
    ----------
    name
        Folder name of the edition, as ``bs7671_2018_a4``.
    overrides
        TOML file of ``[[confirmed]]`` tables: key, value, copy, initials, date.

    Returns
    -------
    Edition
        Entries and tables; those known only from the edition before are marked as carried.

    Raises
    ------
    FieldError
        No such edition, or an override that cannot be used.
    """
    if name not in editions():
        raise FieldError("edition", name, f"one of {', '.join(editions())}")
    edition = _shipped(name)
    return edition if overrides is None else confirm(edition, overrides)


@cache
def _shipped(name: str) -> Edition:
    """Return an edition as shipped: read once, for the files do not change while we run."""
    about = tomllib.loads((FOLDER / name / "edition.toml").read_text(encoding="utf-8"))
    absent = frozenset(about.get("absent", ()))
    entries, tables = _carried(about.get("carries_from", ""), absent)
    for path in sorted((FOLDER / name).glob("*.toml")):
        if path.name != "edition.toml":
            content = tomllib.loads(path.read_text(encoding="utf-8"))
            entries |= _entries(content)
            tables |= _tables(content)
    edition = Edition(
        name=name,
        title=about["title"],
        entries=entries,
        tables=tables,
        valid_from=about.get("valid_from", ""),
        valid_to=about.get("valid_to", ""),
        carries_from=about.get("carries_from", ""),
        carried_words=about.get("carried_words", ""),
        absent=absent,
    )
    return replace(edition, digest=digest_of(edition))


def _carried(name: str, absent: frozenset[str]) -> tuple[dict[str, Entry], dict[str, Table]]:
    """Return what stands in from another edition, all but the rules known to be absent."""
    if not name:
        return {}, {}
    before = _shipped(name)
    return (
        {k: replace(entry, carried=True) for k, entry in before.entries.items() if k not in absent},
        {k: replace(table, carried=True) for k, table in before.tables.items() if k not in absent},
    )


def _entries(content: dict[str, Any]) -> dict[str, Entry]:
    sources = content["sources"]
    return {
        key: Entry(
            key=key,
            value=raw["value"],
            unit=raw["unit"],
            clause=raw["clause"],
            source=sources[raw["source"]],
            known=Known(raw["known"]),
        )
        for key, raw in content.get("entries", {}).items()
    }


def _tables(content: dict[str, Any]) -> dict[str, Table]:
    sources = content["sources"]
    return {
        key: Table(
            key=key,
            unit=raw["unit"],
            clause=raw["clause"],
            source=sources[raw["source"]],
            known=Known(raw["known"]),
            rows=raw["rows"],
            memory_cells=frozenset((row, column) for row, column in raw.get("memory_cells", ())),
        )
        for key, raw in content.get("tables", {}).items()
    }
