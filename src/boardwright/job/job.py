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

    kind: Literal["house", "flat", "bungalow", "outbuilding"]
    country: Literal["England", "Wales", "Scotland", "Northern Ireland"] = "England"
    building_class: Literal[
        "ordinary",
        "higher-risk residential",
        "house in multiple occupation",
        "student",
        "care home",
    ] = "ordinary"
    occupier: Literal["owner", "tenant"] | None = None
    board_place: str = ""
    board_on_combustible_wall: YesNo | None = None
    board_in_sole_escape_route: YesNo | None = None


class Job(Surveyed):
    """All that the survey brought home. A value left out is not known yet.

    ``assumed`` lists the dotted paths of values that were assumed rather than seen.
    """

    schema_version: Literal[1] = SCHEMA_VERSION
    id: Id
    title: str = Field(min_length=1, max_length=80)
    designed_on: Annotated[date, BeforeValidator(_no_seconds)]
    edition: Id = "bs7671_2018_a4"
    premises: Premises
    supply: Supply
    earthing: Earthing
    surge_environment: SurgeEnvironment
    existing_board: ExistingBoard | None = None
    circuits: tuple[Circuit, ...] = Field(min_length=1, max_length=60)
    wishes: Wishes = Wishes()
    demand_logged_a: float | None = Field(default=None, gt=0, le=400)
    demand_logged_source: str = ""
    assumed: tuple[str, ...] = ()

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
