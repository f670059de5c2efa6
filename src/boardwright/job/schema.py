"""The job file's JSON Schema, for editors and forms."""

from __future__ import annotations

from typing import Any

from boardwright.job.job import SCHEMA_VERSION, Job


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of the job file."""
    schema = Job.model_json_schema()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:boardwright:job:{SCHEMA_VERSION}",
        **schema,
        "title": "Boardwright job",
    }
