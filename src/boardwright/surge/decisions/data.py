"""What the changes cost in hours: read once, as the program's code is."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources
from typing import Any


@cache
def changes_data() -> dict[str, Any]:
    """Return the figures of changes.toml."""
    text = resources.files(__package__).joinpath("changes.toml").read_text("utf-8")
    return tomllib.loads(text)
