"""Stores of both kinds: the same tests run on a file and on a server."""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest

from boardwright.store.store import Store, open_store
from tests.store.server import binaries, needed, running

_SCHEMAS = count(1)


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """Return the address of a PostgreSQL server without its database."""
    folder = needed(binaries(), ci=os.environ.get("CI") == "true")
    with running(folder) as address:
        yield address


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.slow)])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Return the place of a store that does not exist yet."""
    if request.param == "sqlite":
        return str(tmp_path / "jobs.db")
    return new_schema(request.getfixturevalue("server"))


@pytest.fixture
def store(place: str) -> Iterator[Store]:
    """Return an empty store."""
    opened = open_store(place)
    yield opened
    opened.close()


def new_schema(address: str) -> str:
    """Make an empty schema on a server and return the URL of it; a database each costs seconds."""
    import psycopg

    name = f"store_{next(_SCHEMAS)}"
    with psycopg.connect(f"{address}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE SCHEMA {name}".encode())
    return f"{address}/postgres?options=-csearch_path%3D{name}"
