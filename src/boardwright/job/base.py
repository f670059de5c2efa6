"""The base of every part of a job, and the words they share."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

Id = Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9_-]{0,39}$", description="stable id, given once")]
Phase = Literal["L1", "L2", "L3"]
YesNo = Literal["yes", "no"]
"""A survey answer; a question not answered yet is left out (None)."""


class Surveyed(BaseModel):
    """Frozen; an unknown key is an error; a value left out is not known yet."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_max_length=400)
