"""A plain form as it was sent: names and values, read before the route that needs them runs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from fastapi import Depends, Request

from boardwright.core.errors import FieldError

LARGEST = 2**31 - 1


async def sent(request: Request) -> dict[str, str]:
    """Return the fields of a form of our own page; files are none of it."""
    form = await request.form()
    return {key: value for key, value in form.items() if isinstance(value, str)}


def whole(given: Mapping[str, str], key: str, *, least: int = 1, most: int = LARGEST) -> int:
    """Return a whole number of a form.

    Raises
    ------
    FieldError
        It is none, or out of range.
    """
    text = given.get(key, "")
    try:
        number = int(text)
    except ValueError:
        number = most + 1
    if not least <= number <= most:
        raise FieldError(key, text, f"a whole number from {least} to {most}")
    return number


Sent = Annotated[dict[str, str], Depends(sent)]

__all__ = ["Sent", "sent", "whole"]
