"""Older files come up to date one step at a time; newer ones are refused."""

import pytest

from boardwright.core.errors import FieldError
from boardwright.job.migrate import STEPS, Data, migrate


def _shout(data: Data) -> Data:
    return {**data, "title": str(data["title"]).upper()}


def _rename(data: Data) -> Data:
    return {"name" if key == "title" else key: value for key, value in data.items()}


def test_steps_are_taken_in_their_order() -> None:
    old: Data = {"schema_version": 1, "title": "a"}

    assert migrate(old, {1: _shout, 2: _rename}, to=3) == {"schema_version": 3, "name": "A"}
    assert migrate({**old, "schema_version": 2}, {1: _shout, 2: _rename}, to=3)["name"] == "a"
    assert old == {"schema_version": 1, "title": "a"}


def test_a_version_without_a_step_is_refused() -> None:
    with pytest.raises(FieldError, match="found 0, expected a version from 1 to 3"):
        migrate({"schema_version": 0}, {}, to=3)


def test_every_older_version_has_its_step() -> None:
    from boardwright.job.job import SCHEMA_VERSION

    assert sorted(STEPS) == list(range(1, SCHEMA_VERSION))
