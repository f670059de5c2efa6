"""Dotted paths: how a place in a job is named, and whether a name leads anywhere."""

import pytest

from boardwright.job.paths import dotted, find, item_names

DATA = {
    "circuits": [{"id": "ring", "cable": {"length_m": 5}}, {"id": "7"}, {"name": "no id"}],
    "bonds": [{"service": "gas"}, {"service": "gas"}],
    "devices": [{"way": 3, "kind": "MCB"}],
    "groups": [["a", "b"]],
}


@pytest.mark.parametrize(
    ("loc", "path"),
    [
        (("circuits", 0, "cable", "length_m"), "circuits.ring.cable.length_m"),
        (("circuits", 2, "id"), "circuits.#3.id"),
        (("bonds", 1), "bonds.#2"),
        (("devices", 0, "way"), "devices.3.way"),
        (("groups", 0, 1), "groups.#1.#2"),
        (("absent", 4, "x"), "absent.#5.x"),
    ],
)
def test_a_place_is_named(loc: tuple[int | str, ...], path: str) -> None:
    assert dotted(loc, DATA) == path


@pytest.mark.parametrize(
    ("path", "leads"),
    [
        ("circuits", True),
        ("circuits.ring.cable.length_m", True),
        ("circuits.7.id", True),
        ("circuits.#3.name", True),
        ("circuits.#1.cable", False),
        ("circuits.ring.cable.length_m.x", False),
        ("bonds.gas", False),
        ("circuits.", False),
        ("", False),
    ],
)
def test_a_path_leads_somewhere_or_not(path: str, leads: bool) -> None:  # noqa: FBT001 - a column of the table above
    assert find(path, DATA) is leads


def test_a_name_that_two_items_share_names_neither() -> None:
    assert item_names(DATA["bonds"]) == ["#1", "#2"]
