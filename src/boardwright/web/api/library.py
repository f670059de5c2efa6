"""What stands behind every home: editions, catalogue, schemas, and one circuit without a job."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Response
from pydantic import Field

from boardwright.circuits.reply import Questions, reply
from boardwright.circuits.single import Asked
from boardwright.core.errors import FieldError
from boardwright.documents.answers.circuit import circuit_json
from boardwright.documents.record.design_file import design_schema
from boardwright.job.schema import job_schema
from boardwright.standards.edition import Edition, Entry
from boardwright.standards.load import DEFAULT, editions, load_edition
from boardwright.web.api.shapes import Shape
from boardwright.web.frame.reach import Homes

routes = APIRouter(tags=["library"])

Typed = str | float | None
"""A value as it was typed, or as a number."""


class Circuit(Shape):
    """One circuit, as the command ``boardwright circuit`` takes it; left out means not known."""

    edition: str = Field(default=DEFAULT, max_length=40)
    serves: str = Field(default="fixed appliance", max_length=40)
    power: Typed = None
    current: Typed = None
    size: Typed = None
    cpc: Typed = None
    length: Typed = None
    cable: str = Field(default="flat twin and earth", max_length=40)
    method: Typed = None
    ambient: Typed = None
    grouped: Typed = None
    grouping: str | None = Field(default=None, max_length=40)
    insulated: Typed = None
    device: Typed = None
    standard: str | None = Field(default=None, max_length=40)
    socket: bool = False
    ring: bool = False
    existing: bool = False
    system: str = Field(default="TN-C-S", max_length=40)
    ze: Typed = None
    ra: Typed = None
    ipf: Typed = None
    voltage: Typed = None
    phases: Typed = None
    longest: bool = False
    smallest: bool = False
    largest: bool = False

    def asked(self) -> Asked:
        """Return the circuit as it would have been typed."""
        values: dict[str, Any] = self.model_dump(
            exclude={"edition", "longest", "smallest", "largest"}
        )
        return Asked(**{key: _typed(value) for key, value in values.items()})

    def questions(self) -> Questions:
        """Return what is asked backwards of it."""
        return Questions(longest=self.longest, smallest=self.smallest, largest=self.largest)


@routes.post("/circuit", response_class=Response)
def circuit(asked: Circuit) -> Response:
    """Work out one circuit without a job, as ``boardwright circuit --json`` prints it."""
    answered = reply(asked.asked(), asked.questions(), _edition(asked.edition))
    return Response(circuit_json(answered), media_type="application/json")


@routes.get("/editions")
def edition_list() -> dict[str, Any]:
    """List the editions of the wiring rules that figures come from."""
    listed = [load_edition(name) for name in editions()]
    return {
        "default": DEFAULT,
        "editions": [{"name": e.name, "title": e.title, "digest": e.digest} for e in listed],
    }


@routes.get("/editions/{name}")
def edition(name: str, key: str = "", *, doubtful: bool = False) -> dict[str, Any]:
    """Return an edition's figures, each with clause, source and how it is known."""
    found = _edition(name)
    shown = [
        _entry(entry)
        for entry in found.entries.values()
        if entry.key.startswith(key) and not (doubtful and _is_sure(entry))
    ]
    return {"name": found.name, "title": found.title, "figures": shown}


@routes.get("/catalogue")
def catalogue(jobs: Homes) -> dict[str, Any]:
    """Return every device, enclosure and appliance that a job may name."""
    known = jobs.catalogue
    return {
        "digest": known.digest,
        "devices": [each.model_dump(mode="json") for each in known.devices.values()],
        "enclosures": [each.model_dump(mode="json") for each in known.enclosures.values()],
        "appliances": [each.model_dump(mode="json") for each in known.appliances.values()],
    }


@routes.get("/schemas/{name}")
def schema(name: str) -> dict[str, Any]:
    """Return the JSON Schema of the job file or of the design file."""
    makers = {"job": job_schema, "design": design_schema}
    if name not in makers:
        raise FieldError("schema", name, "job or design")
    return makers[name]()


def _edition(name: str) -> Edition:
    if name not in editions():
        raise FieldError("edition", name, f"one of {', '.join(editions())}")
    return load_edition(name)


def _is_sure(entry: Entry) -> bool:
    return entry.known.value != "memory" and not entry.carried


def _entry(entry: Entry) -> dict[str, Any]:
    return {
        "key": entry.key,
        "value": entry.value,
        "unit": entry.unit,
        "clause": entry.clause,
        "source": entry.source,
        "known": entry.known.value,
        "carried": entry.carried,
    }


def _typed(value: object) -> Any:  # noqa: ANN401 - text, yes or no, or nothing
    return f"{value:.12g}" if isinstance(value, float) else value


__all__ = ["Circuit", "routes"]
