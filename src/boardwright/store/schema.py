"""The tables' version: asked with one query at each start; alembic comes in only to change it."""

from __future__ import annotations

from sqlalchemy import Connection, Engine, inspect, text

from boardwright.store.engine import reading, rebuilding
from boardwright.store.errors import SchemaError
from boardwright.store.guards import install_guards, remove_guards
from boardwright.store.place import shown

HEAD = "0002"
"""The step that this program's tables stand at; steps are numbered in order."""

VERSION_TABLE = "boardwright_schema"
_ASK = text(f"SELECT version_num FROM {VERSION_TABLE}")  # noqa: S608 - our own name
_ONE_AT_A_TIME = 0x626F617264
"""Key of PostgreSQL's lock: two programs that start at once do not both make tables."""


def bring_up_to_date(engine: Engine) -> None:
    """See that the tables are those this program knows: make or change them where they are not.

    Raises
    ------
    StoreError
        The store cannot be reached, belongs to another program or to a newer one.
    """
    from sqlalchemy.exc import DBAPIError

    try:
        with engine.begin() as connection:
            found = connection.execute(_ASK).scalar()
    except DBAPIError:
        # No such table, file or server: which of them shows when it is asked again in full.
        found = None
    if found != HEAD:
        _refuse_newer(found, engine)
        _migrate(engine)


def schema_version(connection: Connection) -> str | None:
    """Return the step the tables stand at; nothing where there are none.

    Raises
    ------
    SchemaError
        The tables are those of another program.
    """
    names = inspect(connection).get_table_names()
    if VERSION_TABLE in names:
        return connection.execute(_ASK).scalar()
    if names:
        place = shown(connection.engine.url)
        raise SchemaError(
            f"{place}: found tables of another program, expected a store of Boardwright or an"
            " empty database. Nothing was changed."
        )
    return None


def _refuse_newer(found: str | None, engine: Engine) -> None:
    if found is not None and not (found.isdecimal() and int(found) <= int(HEAD)):
        raise SchemaError(
            f"{shown(engine.url)}: found tables of version {found}, expected {HEAD} at most: they"
            " were written by a newer program. Update this one; nothing was changed."
        )


def _migrate(engine: Engine) -> None:
    with reading(engine) as connection:
        _refuse_newer(schema_version(connection), engine)
    with rebuilding(engine) as connection:
        if engine.dialect.name == "postgresql":
            lock = text("SELECT pg_advisory_xact_lock(:key)")
            connection.execute(lock, {"key": _ONE_AT_A_TIME})
        # Another program may have done it while this one waited.
        if schema_version(connection) != HEAD:
            walk(connection)


def walk(connection: Connection, to: str = HEAD) -> None:
    """Walk the steps up to one of them, inside the transaction that is open."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", "boardwright.store:migrations")
    config.attributes["connection"] = connection
    remove_guards(connection)
    command.upgrade(config, to)
    install_guards(connection)
