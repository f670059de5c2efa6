"""The base of every part of a job, and the words they share."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    ValidationInfo,
    field_validator,
    model_validator,
)
from pydantic_core import PydanticCustomError

Id = Annotated[
    str, Field(pattern=r"^[a-z0-9][a-z0-9_-]{0,39}$", description="stable id, given once")
]
Phase = Literal["L1", "L2", "L3"]
_STEERING = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")

YesNo = Literal["yes", "no"]
"""A survey answer; a question not answered yet is left out (None)."""


class Surveyed(BaseModel):
    """Frozen; an unknown key is an error; a value left out is not known yet."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_max_length=400, allow_inf_nan=False)

    @model_validator(mode="before")
    @classmethod
    def _empty_is_left_out(cls, data: Any) -> Any:  # noqa: ANN401 - whatever was read
        """Take a known key without a value as one that was left out."""
        if not isinstance(data, dict):
            return data
        return {
            key: value
            for key, value in data.items()
            if value is not None or key not in cls.model_fields
        }

    @field_validator("*", mode="before")
    @classmethod
    def _truth_is_no_number(cls, value: Any, info: ValidationInfo) -> Any:  # noqa: ANN401 - as above
        """Refuse true and false where a number belongs: Python would take them for 1 and 0."""
        field = cls.model_fields[info.field_name or ""]
        if isinstance(value, bool) and field.annotation is not bool:
            raise PydanticCustomError("truth", "found true or false")
        return value

    @field_validator("*", mode="before")
    @classmethod
    def _signs_can_be_shown(cls, value: Any) -> Any:  # noqa: ANN401 - as above
        """Refuse signs that only steer a machine: no paper can show them."""
        if isinstance(value, str) and _STEERING.search(value):
            raise PydanticCustomError("signs", "found a control sign")
        return value
