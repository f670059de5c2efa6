"""Triggers that let no program change or remove a row, whichever way it reaches the database."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from sqlalchemy import Column, Connection, Table, UniqueConstraint, select, text

from boardwright.store.tables import metadata

REFUSAL = "the store's history is never changed"


def remove_guards(connection: Connection) -> None:
    """Take the triggers away, so that a step of the schema may rebuild tables."""
    for table in metadata.sorted_tables:
        for statement in _removals(connection, table):
            connection.exec_driver_sql(statement)


def install_guards(connection: Connection) -> None:
    """Set the triggers on every table; those that stand are replaced."""
    remove_guards(connection)
    if connection.dialect.name == "sqlite":
        for table in metadata.sorted_tables:
            for statement in _sqlite(table):
                connection.exec_driver_sql(statement)
        return
    connection.exec_driver_sql(
        "CREATE OR REPLACE FUNCTION boardwright_refuse() RETURNS trigger LANGUAGE plpgsql AS"
        f" $$ BEGIN RAISE EXCEPTION '{REFUSAL.replace(chr(39), chr(39) * 2)}'; END $$"
    )
    for table in metadata.sorted_tables:
        for statement in _postgresql(table):
            connection.exec_driver_sql(statement)


def _removals(connection: Connection, table: Table) -> Iterator[str]:
    on = "" if connection.dialect.name == "sqlite" else f" ON {table.name}"
    if on and not connection.dialect.has_table(connection, table.name):
        return
    for what in ("update", "delete", "truncate", "replace"):
        yield f"DROP TRIGGER IF EXISTS keep_{table.name}_{what}{on}"


def _sqlite(table: Table) -> Iterator[str]:
    quoted = REFUSAL.replace("'", "''")
    for what in ("update", "delete"):
        yield (
            f"CREATE TRIGGER keep_{table.name}_{what} BEFORE {what.upper()} ON {table.name}"
            f" BEGIN SELECT RAISE(ABORT, '{quoted}'); END"
        )
    # INSERT OR REPLACE removes the old row without a word to the trigger above.
    same = " OR ".join(f"({_same(key)})" for key in _keys(table))
    there = select(table.c[table.primary_key.columns.keys()[0]]).where(text(same))
    yield (
        f"CREATE TRIGGER keep_{table.name}_replace BEFORE INSERT ON {table.name}"
        f" WHEN EXISTS ({there}) BEGIN SELECT RAISE(ABORT, '{quoted}'); END"
    )


def _keys(table: Table) -> Iterator[Iterable[Column[Any]]]:
    yield table.primary_key
    for constraint in table.constraints:
        if isinstance(constraint, UniqueConstraint):
            yield constraint.columns


def _same(key: Iterable[Column[Any]]) -> str:
    return " AND ".join(f"{column.name} = NEW.{column.name}" for column in key)


def _postgresql(table: Table) -> Iterator[str]:
    yield (
        f"CREATE TRIGGER keep_{table.name}_update BEFORE UPDATE OR DELETE ON {table.name}"
        " FOR EACH ROW EXECUTE FUNCTION boardwright_refuse()"
    )
    yield (
        f"CREATE TRIGGER keep_{table.name}_truncate BEFORE TRUNCATE ON {table.name}"
        " FOR EACH STATEMENT EXECUTE FUNCTION boardwright_refuse()"
    )
