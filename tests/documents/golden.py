"""The golden papers of the semi: run this file to write them anew, then read the difference.

A golden file is a paper's specification: its change is reviewed like code.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from boardwright.catalogue.load import load_catalogue
from boardwright.design import Design, design
from boardwright.documents.answers.summary import summary
from boardwright.documents.lists import findings, materials, steps, wiring_csv, wiring_table
from boardwright.job.read import read_job
from boardwright.standards.load import load_edition

ROOT = Path(__file__).parents[2]
GOLDEN = ROOT / "tests" / "golden"
PAPERS = (findings, wiring_table, wiring_csv, steps, materials)
FILES = ("summary.txt", *(paper.FILE for paper in PAPERS))


@cache
def example(name: str) -> Design:
    """Return the design of one of the example homes."""
    job = read_job(ROOT / "examples" / f"{name}.yaml")
    return design(job, load_catalogue(), load_edition(job.edition))


def papers(made: Design) -> dict[str, str]:
    """Return each golden paper's text by its file."""
    return {"summary.txt": summary(made)} | {paper.FILE: paper.build(made) for paper in PAPERS}


def golden(name: str, file: str) -> Path:
    """Return where a golden paper lies."""
    return GOLDEN / f"{name}-{file}"


def main() -> None:
    """Write the golden papers of the semi."""
    for file, text in papers(example("semi")).items():
        golden("semi", file).write_bytes(text.encode())


if __name__ == "__main__":
    main()
