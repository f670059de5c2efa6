"""Stores of both kinds: the same tests run on a file and on a server."""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest

from boardwright.store.store import Store, open_store
from tests.store.server import binaries, running

_DATABASES = count(1)


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """Return the address of a PostgreSQL server without its database."""
    folder = binaries()
    if folder is None:
        if os.environ.get("CI") == "true":
            pytest.fail("no PostgreSQL server is installed; `./run test` as root installs it")
        pytest.skip("no PostgreSQL server is installed")
    with running(folder) as address:
        yield address


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Return the place of a store that does not exist yet."""
    if request.param == "sqlite":
        return str(tmp_path / "jobs.db")
    return new_database(request.getfixturevalue("server"))


@pytest.fixture
def store(place: str) -> Iterator[Store]:
    """Return an empty store."""
    opened = open_store(place)
    yield opened
    opened.close()


def new_database(address: str) -> str:
    """Make an empty database on a server and return its URL."""
    import psycopg

    name = f"store_{os.getpid()}_{next(_DATABASES)}"
    with psycopg.connect(f"{address}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}".encode())
    return f"{address}/{name}"
