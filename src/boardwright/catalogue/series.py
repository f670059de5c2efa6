"""Series: one body of common fields and a list of variants, to keep data files short."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from boardwright.core.errors import FieldError

Entry = dict[str, Any]


def expand(series: Mapping[str, Any]) -> Iterator[Entry]:
    """Yield one device entry for each variant of a series.

    ``{field}`` in the series' ``id`` and ``name`` takes the variant's value, in lower case in the
    id. A variant's field overrides the body's.

    Raises
    ------
    FieldError
        The series has no variants, or one is no table.
    """
    variants = series.get("variants")
    if not isinstance(variants, list) or not variants:
        raise FieldError("variants", variants, "a list of tables, one for each device")
    body = {key: value for key, value in series.items() if key != "variants"}
    for variant in variants:
        if not isinstance(variant, dict):
            raise FieldError("variants", variant, "a table such as { curve = 'B', in_a = 6 }")
        filled = {
            "id": _fill(str(body.get("id", "")), variant).lower(),
            "name": _fill(str(body.get("name", "")), variant),
        }
        yield body | filled | variant


def _fill(template: str, variant: Mapping[str, Any]) -> str:
    for key, value in variant.items():
        template = template.replace("{" + key + "}", str(value))
    return template
