"""Each home in ``examples`` says what a practitioner wrote down before there was code to say it."""

import tomllib
from fnmatch import fnmatch
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from boardwright.catalogue.load import load_catalogue
from boardwright.core.findings import Finding
from boardwright.design import Design, design
from boardwright.job.read import read_job
from boardwright.standards.load import load_edition

EXAMPLES = Path(__file__).parents[2] / "examples"
HOMES = sorted(path.stem for path in EXAMPLES.glob("*.yaml"))
KEYS = {"check", "verdict", "subject_id", "clause", "first", "scheme", "why"}


@cache
def _designed(home: str) -> Design:
    job = read_job(EXAMPLES / f"{home}.yaml")
    return design(job, load_catalogue(), load_edition(job.edition))


@cache
def _written(home: str) -> dict[str, list[dict[str, Any]]]:
    return tomllib.loads((EXAMPLES / f"{home}.expected.toml").read_text(encoding="utf-8"))


def _rows(kind: str) -> list[Any]:
    return [
        pytest.param(home, row, id=f"{home}-{row['check']}-{row.get('subject_id', '')}")
        for home in HOMES
        for row in _written(home)[kind]
    ]


@pytest.mark.parametrize(("home", "row"), _rows("expected"))
def test_an_expected_finding_is_there(home: str, row: dict[str, Any]) -> None:
    findings = _findings(home, row)
    near = [_line(finding) for finding in findings if fnmatch(finding.check, row["check"])]

    assert any(_fits(finding, row) for finding in findings), "\n".join(near) or "no such check"


@pytest.mark.parametrize(("home", "row"), _rows("absent"))
def test_what_must_not_be_said_is_not_said(home: str, row: dict[str, Any]) -> None:
    strays = [_line(finding) for finding in _findings(home, row) if _fits(finding, row)]

    assert not strays, "\n".join(strays)


@pytest.mark.parametrize("home", HOMES)
def test_an_expectation_speaks_of_what_exists(home: str) -> None:
    job = read_job(EXAMPLES / f"{home}.yaml")
    ids = {circuit.id for circuit in job.circuits}
    ids |= {job.supply.submain.id} if job.supply.submain else set()
    rows = [row for kind in _written(home).values() for row in kind]

    assert {key for row in rows for key in row} <= KEYS
    assert {row["subject_id"] for row in rows if "subject_id" in row} <= ids


def test_the_split_board_is_the_same_home() -> None:
    """So that the two designs differ by the division alone."""
    semi, split = (read_job(EXAMPLES / f"{name}.yaml") for name in ("semi", "semi-split"))
    own = {"id", "title", "wishes"}

    assert semi.model_dump(exclude=own) == split.model_dump(exclude=own)


def _findings(home: str, row: dict[str, Any]) -> tuple[Finding, ...]:
    """Return the findings meant: of the design proposed, or of the variant that the row names."""
    result = _designed(home)
    if "scheme" not in row:
        return result.findings
    return next(
        variant.findings
        for variant in result.variants
        if variant.scheme.name.lower().replace("_", " ") == row["scheme"]
    )


def _fits(finding: Finding, row: dict[str, Any]) -> bool:
    return (
        fnmatch(finding.check, row["check"])
        and row.get("verdict", finding.verdict.value) == finding.verdict.value
        and row.get("subject_id", finding.subject_id) == finding.subject_id
        and row.get("clause", "") in finding.rule.clause
        and row.get("first", finding.first) == finding.first
    )


def _line(finding: Finding) -> str:
    said = f"{finding.verdict.value} | {finding.check} | {finding.subject_id}"
    return f"{said} | {finding.rule.clause} | {finding.message}"
