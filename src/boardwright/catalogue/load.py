"""Reads the catalogue: the package's data and, over it, a folder of the user's own."""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from boardwright.catalogue.appliances import ApplianceType
from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.consistency import faults
from boardwright.catalogue.devices import DeviceType, Part
from boardwright.catalogue.enclosures import EnclosureType
from boardwright.catalogue.series import Entry, expand
from boardwright.core.errors import BoardwrightError, FieldError, FileError, InputErrors

MAX_FILE_BYTES = 2_000_000
"""A data file beyond this is taken for a mistake rather than read."""

_MODELS: Mapping[str, type[Part]] = {
    "device": DeviceType,
    "enclosure": EnclosureType,
    "appliance": ApplianceType,
}


@dataclass(slots=True)
class _Shelf:
    """Entries of one layer as read: (table, id) to the entry and the file it came from."""

    entries: dict[tuple[str, str], tuple[Entry, str]] = field(default_factory=dict)
    errors: list[BoardwrightError] = field(default_factory=list)


def load_catalogue(extra: Path | None = None) -> Catalogue:
    """Return the catalogue; an entry of the folder ``extra`` adds to it or replaces one.

    Raises
    ------
    InputErrors
        Entries cannot be used; each is named with file, id, field, found and right.
    FileError
        A file or the folder cannot be read.
    """
    shelf = _read(_package_files())
    if extra is not None:
        own = _read(_folder_files(extra))
        shelf.entries |= own.entries
        shelf.errors += own.errors
    parts = _validate(shelf)
    _stop_at(shelf.errors)
    catalogue = _catalogue(parts, _digest(shelf))
    origin = {key: place for key, (_, place) in shelf.entries.items()}
    _stop_at([fault.at(origin[fault.table, fault.id]) for fault in faults(catalogue)])
    return catalogue


def _package_files() -> Iterator[tuple[str, Traversable]]:
    folder = files("boardwright.catalogue") / "makers"
    found = [item for item in folder.iterdir() if item.name.endswith(".toml")]
    yield from ((item.name, item) for item in sorted(found, key=lambda item: item.name))


def _folder_files(folder: Path) -> Iterator[tuple[str, Path]]:
    if not folder.is_dir():
        raise FileError(f"{folder}: no such folder; the catalogue's own folder holds .toml files.")
    yield from ((path.name, path) for path in sorted(folder.glob("*.toml")))


def _read(sources: Iterable[tuple[str, Traversable]]) -> _Shelf:
    """Read one layer. Within it an id may stand once."""
    shelf = _Shelf()
    for name, source in sources:
        for table, entry in _entries(name, _parse(name, source), shelf.errors):
            key = (table, str(entry.get("id", "")))
            if key in shelf.entries:
                other = shelf.entries[key][1]
                found = FieldError("id", key[1], f"an id of its own; {other} has it too")
                shelf.errors.append(found.at(name))
                continue
            shelf.entries[key] = (entry, name)
    return shelf


def _parse(name: str, source: Traversable) -> dict[str, Any]:
    try:
        data = source.read_bytes()
        if len(data) > MAX_FILE_BYTES:
            raise FileError(f"{name}: {len(data)} bytes; a catalogue file has at most 2 MB.")
        return tomllib.loads(data.decode())
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise FileError(f"{name}: not readable as TOML: {error}.") from None
    except OSError as error:
        raise FileError(f"{name}: cannot be read: {error.strerror}.") from None


def _entries(
    name: str, tables: Mapping[str, Any], errors: list[BoardwrightError]
) -> Iterator[tuple[str, Entry]]:
    """Yield each entry with the table it belongs to, series spread out."""
    for table, rows in tables.items():
        if table not in {*_MODELS, "series"} or not isinstance(rows, list):
            expected = "[[device]], [[series]], [[enclosure]] or [[appliance]] in double brackets"
            errors.append(FieldError(table, table, expected, place=name))
            continue
        for row in rows:
            if not isinstance(row, dict):
                errors.append(FieldError(table, row, f"a table of fields, [[{table}]]", place=name))
                continue
            if table != "series":
                yield table, row
                continue
            try:
                yield from (("device", entry) for entry in expand(row))
            except FieldError as error:
                path = f"series {row.get('id', '?')}.{error.path}"
                errors.append(FieldError(path, error.found, error.expected, place=name))


def _validate(shelf: _Shelf) -> dict[str, dict[str, Part]]:
    parts: dict[str, dict[str, Part]] = {table: {} for table in _MODELS}
    for (table, entry_id), (entry, name) in sorted(shelf.entries.items(), key=lambda kv: kv[0]):
        try:
            parts[table][entry_id] = _MODELS[table].model_validate(entry)
        except ValidationError as error:
            shelf.errors += _sentences(error, f"{table} {entry_id or '(no id)'}", entry, name)
    return parts


def _sentences(
    error: ValidationError, subject: str, entry: Entry, name: str
) -> Iterator[FieldError]:
    for detail in error.errors(include_url=False):
        path = f"{subject}.{_path(detail['loc'], entry)}"
        found = None if detail["type"] == "missing" else detail["input"]
        yield FieldError(path, found, _expected(detail["type"], detail["msg"]), place=name)


def _path(location: tuple[int | str, ...], entry: Any) -> str:  # noqa: ANN401 - a node of a TOML tree
    """Return the dotted path, with a list's rows called by their name where they have one."""
    words: list[str] = []
    for step in location:
        try:
            entry = entry[step]
        except (KeyError, IndexError, TypeError):
            entry = None
        named = isinstance(step, int) and isinstance(entry, dict)
        words.append(str(entry.get("name") or entry.get("id") or step) if named else str(step))
    return ".".join(words)


def _expected(kind: str, message: str) -> str:
    if kind == "missing":
        return "a value: the field is needed"
    if kind == "extra_forbidden":
        return "no field of that name"
    said = message.removeprefix("Input should be ")
    return f"{said[0].lower()}{said[1:]}"


def _stop_at(errors: list[BoardwrightError] | list[FieldError]) -> None:
    if errors:
        raise InputErrors(errors)


def _catalogue(parts: Mapping[str, Mapping[str, Any]], digest: str) -> Catalogue:
    return Catalogue(parts["device"], parts["enclosure"], parts["appliance"], digest)


def _digest(shelf: _Shelf) -> str:
    """Hash what the entries say, not how the files are laid out."""
    said = sorted(
        (*key, json.dumps(entry, sort_keys=True)) for key, (entry, _) in shelf.entries.items()
    )
    return hashlib.sha256(json.dumps(said).encode()).hexdigest()
