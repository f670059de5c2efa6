"""The page over the example homes, and over a folder of one's own."""

from __future__ import annotations

from pathlib import Path

import pytest

from boardwright.web.app import create_app
from boardwright.web.jobs import Jobs
from tests.web.client import Client

HOMES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="session")
def jobs() -> Jobs:
    """Return the examples, each designed once for all tests."""
    return Jobs(HOMES)


@pytest.fixture
def client(jobs: Jobs) -> Client:
    return Client(create_app(jobs))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder with one good job, to be added to."""
    text = (HOMES / "semi.yaml").read_text(encoding="utf-8")
    (tmp_path / "semi.yaml").write_text(text, encoding="utf-8")
    return tmp_path
