"""Files that only their owner may read: keys, and the devices that were let in."""

from __future__ import annotations

import os
from pathlib import Path
from secrets import token_hex

from boardwright.core.errors import FileError

OWNER_ONLY = 0o600
OWNER_ONLY_FOLDER = 0o700


def cache_folder() -> Path:
    """Return the folder for what can be made again; it is made when something is kept there."""
    from platformdirs import user_cache_path

    return user_cache_path("boardwright", appauthor=False) / "small"


def write_private(path: Path, content: bytes) -> None:
    """Write a whole file that only its owner may read; half a file is never seen.

    Raises
    ------
    FileError
        It cannot be written.
    """
    fresh = path.with_name(f".{path.name}.{token_hex(4)}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=OWNER_ONLY_FOLDER)
        # Made with its mode: there is no moment at which others could open it.
        handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, OWNER_ONLY)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        fresh.replace(path)
    except OSError as error:
        fresh.unlink(missing_ok=True)
        raise FileError(f"{path}: cannot be written ({error.strerror}).") from None


__all__ = ["OWNER_ONLY", "cache_folder", "write_private"]
