"""What was made once, kept on disk by its content's hash; losing it costs only time."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path
from secrets import token_hex

KEPT = 1000
_TRIMMED_BY = 100


class Disk:
    """Texts by key in the user's cache folder; without a folder, in memory alone."""

    def __init__(self, folder: Path | None = None) -> None:
        """Use a folder, which is made when something is kept."""
        self._folder = folder
        self._memory: dict[str, str] = {}

    def get(self, key: str) -> str | None:
        """Return what is kept under a hash."""
        if self._folder is None:
            return self._memory.get(key)
        try:
            return (self._folder / key).read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError):
            return None

    def has(self, key: str) -> bool:
        """Say whether something is kept under a hash, without reading it."""
        return key in self._memory if self._folder is None else (self._folder / key).is_file()

    def keep(self, key: str, text: str) -> None:
        """Keep a text; where the disk does not take it, nothing is kept and nothing said."""
        if self._folder is None:
            self._memory[key] = text
            return
        with contextlib.suppress(OSError):
            self._folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            part = self._folder / f".{token_hex(8)}"
            part.write_text(text, encoding="utf-8")
            part.replace(self._folder / key)
            self._trim()

    def _trim(self) -> None:
        """Let the oldest go where there are too many."""
        assert self._folder is not None  # noqa: S101 - only called for one
        found = list(os.scandir(self._folder))
        if len(found) > KEPT:
            oldest = sorted(found, key=lambda entry: entry.stat().st_mtime)
            for entry in oldest[: len(found) - KEPT + _TRIMMED_BY]:
                Path(entry.path).unlink(missing_ok=True)


__all__ = ["Disk"]
