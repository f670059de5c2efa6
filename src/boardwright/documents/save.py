"""Writing the papers to a folder without ever destroying a person's file."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path

from boardwright.core.errors import FileError
from boardwright.design import Design
from boardwright.documents.readings.taken import NOTHING_YET, OnSite
from boardwright.documents.shelf import shelf

_LEDGER = ".boardwright.json"
"""Hashes of what this program wrote: a file that differs is a person's and is left alone."""


@dataclass(frozen=True, slots=True)
class Saved:
    """One paper on disk. ``beside`` is true where a person's file kept the usual name."""

    title: str
    path: Path
    beside: bool


def save_all(design: Design, folder: Path, site: OnSite = NOTHING_YET) -> tuple[Saved, ...]:
    """Write every document into ``folder/<job id>/`` and return what was written.

    A file of the same name that this program did not write, or that was changed since, stays:
    the paper is then written beside it under a free name.

    Raises
    ------
    FileError
        The folder cannot be made or written.
    """
    home = folder / design.job.id
    try:
        home.mkdir(parents=True, exist_ok=True)
        ledger = _read_ledger(home)
        saved = tuple(
            _save(home, document.file, document.title, _bytes(document.made(design, site)), ledger)
            for document in shelf()
        )
        _replace(home / _LEDGER, json.dumps(ledger, indent=1, sort_keys=True).encode())
    except OSError as error:
        raise FileError(
            f"{home}: cannot be written ({error.strerror}). Choose another folder."
        ) from None
    return saved


def _save(home: Path, name: str, title: str, content: bytes, ledger: dict[str, str]) -> Saved:
    path = _free_path(home, name, ledger)
    _replace(path, content)
    ledger[path.name] = _digest(content)
    return Saved(title, path, beside=path.name != name)


def _free_path(home: Path, name: str, ledger: dict[str, str]) -> Path:
    """Return the first of name, name-2, name-3 … that is free or that we wrote unchanged."""
    usual = Path(name)
    number = 1
    while True:
        path = home / (name if number == 1 else f"{usual.stem}-{number}{usual.suffix}")
        if not path.exists():
            return path
        if path.is_file() and ledger.get(path.name) == _digest(path.read_bytes()):
            return path
        number += 1


def _read_ledger(home: Path) -> dict[str, str]:
    try:
        ledger = json.loads((home / _LEDGER).read_text(encoding="utf-8"))
    except (FileNotFoundError, ValueError):
        # Without a readable ledger every file counts as a person's, which loses nothing.
        return {}
    return {str(k): str(v) for k, v in ledger.items()} if isinstance(ledger, dict) else {}


def _replace(path: Path, content: bytes) -> None:
    """Write whole or not at all: a pack cut in half by a flat battery helps nobody."""
    half = path.with_name(f".{path.name}.half")
    half.write_bytes(content)
    half.replace(path)


def _bytes(content: str | bytes) -> bytes:
    return content.encode("utf-8") if isinstance(content, str) else content


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
