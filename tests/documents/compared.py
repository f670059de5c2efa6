"""A home that leaves all three schemes open: the cottage, its board found with free ways."""

from __future__ import annotations

from functools import cache

from boardwright.catalogue.load import load_catalogue
from boardwright.design import Design, design
from boardwright.job.job import Job
from boardwright.job.read import read_job
from boardwright.standards.load import load_edition
from tests.documents.golden import ROOT


@cache
def compared() -> Design:
    """Return the design of the cottage, had its board 16 ways instead of ten."""
    job = read_job(ROOT / "examples" / "cottage.yaml")
    if job.existing_board is None:
        raise ValueError("the cottage's survey describes a board")
    board = job.existing_board.model_copy(update={"ways": 16})
    changed = Job.model_validate(job.model_copy(update={"existing_board": board}).model_dump())
    return design(changed, load_catalogue(), load_edition(changed.edition))
