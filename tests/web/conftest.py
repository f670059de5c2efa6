"""The page over the example homes, and over a folder of one's own."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from boardwright.store.store import open_store
from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs
from tests.web.client import Client

HOMES = Path(__file__).parents[2] / "examples"


def homes_of(folder: Path, own_figures: Path | None = None) -> Jobs:
    """Return the homes of a folder (or of one file), in a store that lies out of its way."""
    place = folder if folder.is_dir() else folder.parent
    kept = place.parent / f"{place.name}.store"
    kept.mkdir(exist_ok=True)
    return Jobs(open_store(kept / "jobs.db"), folder, own_figures)


@pytest.fixture(scope="session")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> Jobs:
    """Return the examples, each designed once for all tests."""
    copy = tmp_path_factory.mktemp("homes") / "examples"
    copy.mkdir()
    for path in HOMES.glob("*.yaml"):
        shutil.copy(path, copy)
    return homes_of(copy)


@pytest.fixture
def client(jobs: Jobs) -> Client:
    return Client(create_app(jobs))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder with one good job, to be added to."""
    folder = tmp_path / "homes"
    folder.mkdir()
    shutil.copy(HOMES / "semi.yaml", folder)
    return folder
