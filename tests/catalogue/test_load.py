"""The catalogue as shipped, and a folder of the user's own laid over it."""

from pathlib import Path

import pytest

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.devices import Kind
from boardwright.catalogue.load import load_catalogue
from boardwright.core.errors import FieldError, FileError, InputErrors

OWN_MCB = """
[[device]]
id = "ravel-mcb-b6"
maker = "Ravel"
family = "ravel-r1"
kind = "MCB"
name = "MCB B6, the user's own price"
modules = 1
poles = 1
in_a = 6
curve = "B"
price_gbp = 9.99
permitted_families = ["ravel-r1"]
terminals = [
    TERMINAL(name = "L-out", side = "top", role = "load"),
    TERMINAL(name = "L-in", side = "bottom", role = "supply"),
]
"""
# One body for both terminals, to keep the lines short.
OWN_MCB = OWN_MCB.replace(
    "TERMINAL(", '{ conductor = "L", offset_mm = 8.9, capacity_mm2 = 25, torque_nm = 2.0, '
).replace("),", " },")


@pytest.fixture(scope="module")
def shipped() -> Catalogue:
    return load_catalogue()


def _load_own(tmp_path: Path, text: str) -> Catalogue:
    (tmp_path / "own.toml").write_text(text, encoding="utf-8")
    return load_catalogue(tmp_path)


def _one_error(tmp_path: Path, text: str) -> FieldError:
    with pytest.raises(InputErrors) as caught:
        _load_own(tmp_path, text)
    assert len(caught.value.errors) == 1, str(caught.value)
    error = caught.value.errors[0]
    assert isinstance(error, FieldError)
    return error


def test_the_makers_are_there_with_both_hands_of_main_switch(shipped: Catalogue) -> None:
    assert {device.maker for device in shipped.devices.values()} == {"Ravel", "Tarn", "Ostrey"}
    assert {box.hand for box in shipped.enclosures.values()} >= {"left", "right"}


def test_spds_differ_in_pin_out_and_width(shipped: Catalogue) -> None:
    spds = [spd for spd in shipped.of_kind(Kind.SPD) if spd.spd and spd.spd.phases == 1]
    pin_outs = {tuple((t.conductor, t.side, t.offset_mm) for t in spd.terminals) for spd in spds}

    assert len(pin_outs) >= 3
    assert len({spd.modules for spd in spds}) >= 3


def test_every_kind_of_device_is_on_offer(shipped: Catalogue) -> None:
    assert {device.kind for device in shipped.devices.values()} == set(Kind)


def test_a_series_becomes_one_device_for_each_variant(shipped: Catalogue) -> None:
    ratings = [
        device.in_a
        for device in shipped.of_kind(Kind.RCBO)
        if device.family == "ravel-r1" and device.rcd_type == "A" and device.modules == 1
        if device.curve == "B"
    ]

    assert sorted(ratings, key=float) == [6, 10, 16, 20, 25, 32, 40, 45, 50]  # type: ignore[arg-type]
    assert shipped.devices["ravel-rcbo-b32"].name == "RCBO B32, 30 mA type A"


def test_the_same_data_gives_the_same_digest(shipped: Catalogue, tmp_path: Path) -> None:
    assert load_catalogue().digest == shipped.digest
    assert _load_own(tmp_path, OWN_MCB).digest != shipped.digest


def test_a_comment_does_not_change_the_digest(tmp_path: Path) -> None:
    plain = _load_own(tmp_path, OWN_MCB).digest

    assert _load_own(tmp_path, f"# said in passing\n{OWN_MCB}").digest == plain


def test_an_own_entry_replaces_the_shipped_one(shipped: Catalogue, tmp_path: Path) -> None:
    own = _load_own(tmp_path, OWN_MCB)

    assert own.devices["ravel-mcb-b6"].price_gbp == 9.99
    assert own.devices.keys() == shipped.devices.keys()


def test_an_own_entry_is_added(shipped: Catalogue, tmp_path: Path) -> None:
    own = _load_own(tmp_path, OWN_MCB.replace("ravel-mcb-b6", "own-mcb-b6"))

    assert own.devices.keys() - shipped.devices.keys() == {"own-mcb-b6"}


@pytest.mark.parametrize(
    ("good", "bad", "path", "found"),
    [
        ("in_a = 6", 'in_a = "6 A"', "device ravel-mcb-b6.in_a", "6 A"),
        ("in_a = 6", "in_a = -6", "device ravel-mcb-b6.in_a", -6),
        ("modules = 1", "modules = 0", "device ravel-mcb-b6.modules", 0),
        ("poles = 1", "poles = 1\ncolour = 'white'", "device ravel-mcb-b6.colour", "white"),
        ('kind = "MCB"', 'kind = "fuse"', "device ravel-mcb-b6.kind", "fuse"),
        ('maker = "Ravel"\n', "", "device ravel-mcb-b6.maker", None),
        ('side = "top"', 'side = "left"', "device ravel-mcb-b6.terminals.L-out.side", "left"),
        ("offset_mm = 8.9", "offset_mm = 20", "device ravel-mcb-b6.terminals.L-out.offset_mm", 20),
    ],
)
def test_a_bad_entry_is_named(
    tmp_path: Path, good: str, bad: str, path: str, found: object
) -> None:
    error = _one_error(tmp_path, OWN_MCB.replace(good, bad, 1))

    assert (error.place, error.path, error.found) == ("own.toml", path, found)
    assert error.expected
    assert "own.toml" in str(error)
    assert "pydantic" not in str(error)


def test_an_id_may_stand_once_in_a_folder(tmp_path: Path) -> None:
    error = _one_error(tmp_path, OWN_MCB + OWN_MCB)

    assert error.found == "ravel-mcb-b6"


def test_an_unknown_table_is_named(tmp_path: Path) -> None:
    assert _one_error(tmp_path, "[[devise]]\nid = 'x'\n").path == "devise"


def test_a_row_that_is_no_table_is_named(tmp_path: Path) -> None:
    assert _one_error(tmp_path, "device = [1]\n").found == 1


def test_a_series_without_variants_is_named(tmp_path: Path) -> None:
    error = _one_error(tmp_path, "[[series]]\nid = 'own-{in_a}'\n")

    assert error.path == "series own-{in_a}.variants"


def test_all_errors_come_together(tmp_path: Path) -> None:
    text = OWN_MCB.replace("in_a = 6", "in_a = -6").replace("poles = 1", "poles = 9")

    with pytest.raises(InputErrors) as caught:
        _load_own(tmp_path, text)

    assert len(caught.value.errors) == 2


def test_a_file_that_is_no_toml_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"own\.toml: not readable as TOML"):
        _load_own(tmp_path, "[[device")


def test_a_missing_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="no such folder"):
        load_catalogue(tmp_path / "nowhere")
