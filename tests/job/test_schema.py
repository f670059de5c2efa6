"""The job file's JSON Schema: complete, described, and it takes what the program takes."""

import json
from pathlib import Path

import pytest
from jsonschema_rs import Draft202012Validator, meta

from boardwright.job.schema import job_schema
from boardwright.job.tree import grow, plain
from boardwright.job.write import starter

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


def test_the_schema_is_one_by_the_standards_own_check() -> None:
    schema = job_schema()

    meta.validate(schema)
    assert schema["$schema"].endswith("2020-12/schema")
    assert schema["$id"] == "urn:boardwright:job:1"
    assert json.loads(json.dumps(schema)) == schema


def test_every_field_is_described() -> None:
    schema = job_schema()
    bare = [
        f"{part['title']}.{key}"
        for part in (schema, *schema["$defs"].values())
        for key, field in part["properties"].items()
        if not field.get("description")
    ]

    assert bare == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_independent_validator_takes_every_example(path: Path) -> None:
    # Written yes and no are words in YAML 1.2; the schema calls them what they mean.
    data = _meant(plain(grow(path.read_text(), path.name)))

    assert [error.message for error in Draft202012Validator(job_schema()).iter_errors(data)] == []


def test_an_independent_validator_refuses_what_the_program_refuses() -> None:
    data = _meant(plain(grow(starter(), "starter.yaml")))
    assert isinstance(data, dict)

    errors = Draft202012Validator(job_schema()).iter_errors({**data, "id": "My Home", "x": 1})

    assert len(list(errors)) == 2


def _meant(value: object, key: str = "") -> object:
    """Turn words into what a JSON file would hold: truth for switches, no empty values."""
    switches = {
        "with_socket", "thermostatic", "study", "existing", "bathroom", "time_delayed",
    }  # fmt: skip
    if isinstance(value, dict):
        return {k: _meant(v, k) for k, v in value.items() if v is not None}
    if isinstance(value, list):
        return [_meant(item) for item in value]
    if key in switches and isinstance(value, str):
        return value == "yes"
    return str(value) if key == "method" else value
