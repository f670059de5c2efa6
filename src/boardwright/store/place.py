"""Where the store is: a file on this machine, or a database server by URL."""

from __future__ import annotations

import hashlib
from importlib.util import find_spec
from pathlib import Path

from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from boardwright.store.errors import PlaceError

FILE_NAME = "jobs.db"
_EXPECTED = "a file name, sqlite:/// and a file name, or postgresql://user@host/database"


def store_url(place: str | Path | None = None) -> URL:
    """Return the address of a store; nothing given means a file in the user's data folder.

    Raises
    ------
    PlaceError
        The place is neither a file in a folder that exists nor a server this program can speak to.
    """
    if place is None:
        return _file(data_folder() / FILE_NAME)
    text = str(place)
    if isinstance(place, Path) or ":/" not in text:
        return _file(Path(text))
    return _by_url(text)


def place_beside(folder: Path) -> Path:
    """Return the store that goes with a folder of job files: one file a folder, in the user's data.

    It is not in the folder itself, which may be on a network disk, or read only.
    """
    named = hashlib.sha256(str(folder.resolve()).encode()).hexdigest()[:12]
    return data_folder() / f"{folder.resolve().stem or 'folder'}-{named}.db"


def shown(url: URL) -> str:
    """Return how errors name a store: the file, or the address without its password."""
    if url.get_backend_name() == "sqlite":
        return url.database or ""
    return url.set(drivername="postgresql", query={}).render_as_string(hide_password=True)


def _by_url(text: str) -> URL:
    try:
        url = make_url(text)
    except (ArgumentError, ValueError):
        # The text is not repeated: a password may stand in it.
        raise PlaceError(
            f"store: found an address that cannot be read, expected {_EXPECTED}."
        ) from (None)
    if url.get_backend_name() == "sqlite":
        return _file(Path(url.database or ""))
    if url.drivername not in {"postgresql", "postgres", "postgresql+psycopg"}:
        raise PlaceError(f"store: found the kind {url.drivername!r}, expected {_EXPECTED}.")
    if not url.database:
        raise PlaceError(f"store: found an address without a database, expected {_EXPECTED}.")
    if find_spec("psycopg") is None:
        raise PlaceError(
            "store: PostgreSQL needs the package psycopg, which is not installed. Install"
            " boardwright with its extra 'postgres'."
        )
    return url.set(drivername="postgresql+psycopg")


def _file(path: Path) -> URL:
    if str(path) in {"", ".", ":memory:"}:
        raise PlaceError(f"store: found no file name, expected {_EXPECTED}.")
    path = path.expanduser().absolute()
    if path.is_dir():
        raise PlaceError(f"{path}: found a folder, expected a file for the store.")
    if not path.parent.is_dir():
        raise PlaceError(f"{path}: there is no folder {path.parent}. Make it, or name another.")
    return URL.create("sqlite", database=str(path))


def data_folder() -> Path:
    """Return the folder of the user's data, made if it is not there; nobody else may enter it.

    Raises
    ------
    PlaceError
        It cannot be made.
    """
    from platformdirs import user_data_path

    folder = user_data_path("boardwright", appauthor=False)
    try:
        # Homes and names are nobody else's business on a shared machine.
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise PlaceError(f"{folder}: cannot be made: {error.strerror or error}.") from None
    return folder
