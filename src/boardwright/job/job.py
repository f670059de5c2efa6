"""The job: one home, one survey, one set of wishes."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Final, Literal, Self

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from boardwright.job.base import Id, Surveyed, YesNo
from boardwright.job.board import ExistingBoard, Wishes
from boardwright.job.circuit import Circuit
from boardwright.job.consistent import faults
from boardwright.job.supply import Earthing, Supply, SurgeEnvironment

SCHEMA_VERSION: Final = 1
"""Version of the job file that this program writes."""


def _no_seconds(value: Any) -> Any:  # noqa: ANN401 - whatever was read
    # A bare number would pass for seconds since 1970.
    if isinstance(value, int | float):
        raise PydanticCustomError("date", "found a number")
    return value


class Premises(Surveyed):
    """The building, and who decides in it."""

    kind: Literal["house", "flat", "bungalow", "outbuilding"] = Field(
        description="kind of building"
    )
    country: Literal["England", "Wales", "Scotland", "Northern Ireland"] = Field(
        default="England", description="decides building law and notification"
    )
    building_class: Literal[
        "ordinary",
        "higher-risk residential",
        "house in multiple occupation",
        "student",
        "care home",
    ] = Field(default="ordinary", description="class that brings duties of its own")
    occupier: Literal["owner", "tenant"] | None = Field(default=None, description="who lives there")
    board_place: str = Field(default="", description="where the board is")
    board_on_combustible_wall: YesNo | None = Field(
        default=None, description="the wall behind the board can burn"
    )
    board_in_sole_escape_route: YesNo | None = Field(
        default=None, description="the board is in the only way out"
    )


class Job(Surveyed):
    """All that the survey brought home. A value left out is not known yet.

    ``assumed`` lists the dotted paths of values that were assumed rather than seen.
    """

    schema_version: Literal[1] = Field(
        default=SCHEMA_VERSION, description="version of the job file"
    )
    id: Id
    title: str = Field(min_length=1, max_length=80, description="what people call the home")
    designed_on: Annotated[date, BeforeValidator(_no_seconds)] = Field(
        description="day of the design, year-month-day"
    )
    edition: Id = "bs7671_2018_a4"
    premises: Premises = Field(description="the building")
    supply: Supply = Field(description="what comes in")
    earthing: Earthing = Field(description="means of earthing and bonding")
    surge_environment: SurgeEnvironment = Field(description="what decides surge protection")
    existing_board: ExistingBoard | None = Field(
        default=None, description="the board as found; left out where there is none"
    )
    circuits: tuple[Circuit, ...] = Field(
        min_length=1, max_length=60, description="every circuit, existing and new"
    )
    wishes: Wishes = Field(default=Wishes(), description="what is wanted")
    demand_logged_a: float | None = Field(
        default=None,
        gt=0,
        le=400,
        description="largest current logged over a long time, if anyone logged it",
    )
    demand_logged_source: str = Field(default="", description="who logged it, how long and when")
    assumed: tuple[str, ...] = Field(
        default=(), description="dotted paths of values that were assumed, not seen"
    )

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> Self:
        found = tuple(faults(self))
        if found:
            said = "; ".join(f"{fault.loc}: expected {fault.expected}" for fault in found)
            raise PydanticCustomError("inconsistent", "{said}", {"said": said, "faults": found})
        return self

    def circuit(self, circuit_id: str) -> Circuit:
        """Return the circuit of that id.

        Raises
        ------
        KeyError
            No circuit has that id.
        """
        for circuit in self.circuits:
            if circuit.id == circuit_id:
                return circuit
        raise KeyError(circuit_id)
