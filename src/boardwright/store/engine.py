"""Connections to the store, each set up the same way."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event

from boardwright.store.errors import StoreError, told
from boardwright.store.place import shown

BUSY_MS = 10_000
"""How long a writer waits for another; a save takes some milliseconds."""

_WRITES = "boardwright_writes"

# FULL: with WAL, NORMAL would lose the last confirmed saves when the battery dies.
_SQLITE = (
    f"PRAGMA busy_timeout = {BUSY_MS}",
    "PRAGMA synchronous = FULL",
    "PRAGMA foreign_keys = ON",
)


def make_engine(url: URL) -> Engine:
    """Return the engine of a store; nothing is opened yet."""
    if url.get_backend_name() != "sqlite":
        return create_engine(
            url,
            # A server that went away between two requests is noticed before it costs a save.
            pool_pre_ping=True,
            connect_args={"connect_timeout": 10},
            # Who has waited for a job's lock must see what the other saved under it.
            isolation_level="READ COMMITTED",
        )
    engine = create_engine(url)
    event.listen(engine, "connect", _set_up)
    event.listen(engine, "begin", _begin)
    return engine


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """Give a connection that sees one moment of the store.

    Raises
    ------
    StoreError
        The store cannot be read.
    """
    with told(shown(engine.url)), engine.begin() as connection:
        yield connection


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """Give a connection whose changes are kept together when the block ends well, or not at all.

    Raises
    ------
    StoreError
        The store cannot be written.
    """
    writer = engine.execution_options(**{_WRITES: True})
    with told(shown(engine.url)), writer.begin() as connection:
        yield connection


@contextmanager
def rebuilding(engine: Engine) -> Iterator[Connection]:
    """Give a writing connection that lets tables be made anew while rows still point at them.

    Raises
    ------
    StoreError
        The store cannot be written, or rows would point at nothing afterwards.
    """
    if engine.dialect.name != "sqlite":
        with writing(engine) as connection:
            yield connection
        return
    writer = engine.execution_options(**{_WRITES: True})
    with told(shown(engine.url)), writer.connect() as connection:
        # Inside a transaction SQLite would not hear this.
        _foreign_keys(connection, "OFF")
        try:
            with connection.begin():
                yield connection
                if connection.exec_driver_sql("PRAGMA foreign_key_check").first():
                    raise StoreError(f"{shown(engine.url)}: cannot be brought up to date.")
        finally:
            _foreign_keys(connection, "ON")


def _foreign_keys(connection: Connection, setting: str) -> None:
    driver = connection.connection.driver_connection
    assert isinstance(driver, sqlite3.Connection)  # noqa: S101 - the dialect's own driver
    driver.execute(f"PRAGMA foreign_keys = {setting}")


def _set_up(connection: Any, _record: Any) -> None:  # noqa: ANN401 - SQLAlchemy's event
    assert isinstance(connection, sqlite3.Connection)  # noqa: S101 - the dialect's own driver
    # The driver would begin transactions on its own, late and only for some statements.
    connection.isolation_level = None
    for setting in _SQLITE:
        connection.execute(setting)
    mode = connection.execute("PRAGMA journal_mode = WAL").fetchone()
    if mode != ("wal",):
        raise StoreError(
            "The store's folder cannot hold a SQLite file that two programs share."
            " Choose a folder on a disk of this machine."
        )


def _begin(connection: Connection) -> None:
    # A writer takes its place in the queue at once: one that has read first could not wait its
    # turn, for what it read would be out of date by then.
    writes = connection.get_execution_options().get(_WRITES)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
