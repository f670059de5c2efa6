"""History is never changed: whoever reaches the database, by whatever program."""

from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from boardwright.store.engine import make_engine
from boardwright.store.guards import REFUSAL
from boardwright.store.photos import Photo
from boardwright.store.place import store_url
from boardwright.store.store import Store
from boardwright.store.tables import metadata
from tests.store.home import TEXT, clashed, reading, stamp, with_ze

TABLES = [table.name for table in metadata.sorted_tables]
CHANGES = {
    "jobs": "file",
    "versions": "text",
    "asides": "text",
    "events": "value",
    "photos": "kind",
}


def test_every_table_is_tried() -> None:
    assert sorted(TABLES) == sorted(CHANGES)


@pytest.mark.parametrize("table", CHANGES)
@pytest.mark.parametrize("statement", ["UPDATE {table} SET {column} = 'x'", "DELETE FROM {table}"])
def test_a_row_is_neither_changed_nor_removed(store: Store, table: str, statement: str) -> None:
    _fill(store)
    sql = statement.format(table=table, column=CHANGES[table])

    assert REFUSAL in _refusal(store, sql)
    assert store.version("number-7", 1).text == TEXT


@pytest.mark.parametrize("table", CHANGES)
def test_a_row_is_not_replaced(store: Store, table: str) -> None:
    _fill(store)
    way = (
        "INSERT OR REPLACE INTO {0} SELECT * FROM {0}"
        if _is_file(store)
        else "TRUNCATE {0} CASCADE"
    )

    assert REFUSAL in _refusal(store, way.format(table))
    assert len(store.history("number-7")) == 2


def test_an_event_is_not_replaced_by_one_of_its_id(store: Store) -> None:
    _fill(store)

    if _is_file(store):
        assert REFUSAL in _refusal(store, _event(9, "INSERT OR REPLACE"))
    else:
        assert "unique" in _refusal(store, _event(9, "INSERT"))


def test_a_version_belongs_to_a_job(store: Store) -> None:
    said = _refusal(
        store,
        "INSERT INTO versions (job_id, number, text, title, who, why, at, base, sent)"
        " VALUES ('nowhere', 1, 'x', 'x', 'x', 'x', '2026-11-25 00:00:00', 0, 'x')",
    )

    assert "foreign key" in said.lower()


def test_each_connection_to_a_file_is_set_up(tmp_path: Path) -> None:
    engine = make_engine(store_url(tmp_path / "jobs.db"))

    with engine.connect() as one, engine.connect() as other:
        for connection in (one, other):
            found = [
                connection.exec_driver_sql(f"PRAGMA {name}").scalar()
                for name in ("journal_mode", "foreign_keys", "busy_timeout", "synchronous")
            ]
            # SQLite's documentation of "PRAGMA synchronous": 2 is FULL.
            assert found == ["wal", 1, 10_000, 2]
    engine.dispose()


def _fill(store: Store) -> None:
    """Put a row into each table."""
    store.create(TEXT, stamp())
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    clashed(store.save("number-7", with_ze(TEXT, 0.4), base=1, stamp=stamp(2)))
    store.add_events("number-7", [reading(1)])
    store.add_photo("number-7", Photo("image/png", b"x"), reading(2))


def _refusal(store: Store, sql: str) -> str:
    with pytest.raises(DBAPIError) as caught, store._engine.begin() as connection:
        connection.execute(text(sql))
    return str(caught.value.orig)


def _event(number: int, verb: str) -> str:
    columns = "job_id, number, id, kind, subject, value, who, at, device, seen"
    row = f"'number-7', {number}, 'phone-1', 'x', 'x', 'x', 'x', '2026-11-25 00:00:00', 'x', 0"
    return f"{verb} INTO events ({columns}) VALUES ({row})"


def _is_file(store: Store) -> bool:
    return store._engine.dialect.name == "sqlite"
