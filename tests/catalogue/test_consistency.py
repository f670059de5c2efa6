"""Entries that are well-formed each, and yet cannot stand together."""

from dataclasses import replace

import pytest

from boardwright.catalogue.catalogue import Catalogue
from boardwright.catalogue.consistency import faults
from boardwright.catalogue.devices import DeviceType, TestedPairing
from boardwright.catalogue.load import load_catalogue

SHIPPED = load_catalogue()


def _changed(device_id: str, **fields: object) -> Catalogue:
    device = SHIPPED.devices[device_id].model_copy(update=fields)
    return replace(SHIPPED, devices={**SHIPPED.devices, device_id: device})


def _said(catalogue: Catalogue) -> list[str]:
    return [str(fault) for fault in faults(catalogue)]


def test_the_shipped_catalogue_agrees_with_itself() -> None:
    assert _said(SHIPPED) == []


def test_spd_data_belongs_to_an_spd_alone() -> None:
    spd = SHIPPED.devices["ravel-spd-t2"].spd

    assert "SPD data" in _said(_changed("ravel-spd-t2", spd=None))[0]
    assert "no SPD data on another kind" in _said(_changed("ravel-mcb-b6", spd=spd))[0]


def test_a_tested_breaker_must_be_one_of_the_catalogue() -> None:
    spd = SHIPPED.devices["ravel-spd-t2"].spd
    assert spd is not None

    for wrong in ("ravel-mcb-c33", "ravel-ms-100"):
        changed = spd.model_copy(update={"backup_mcb": wrong})
        assert wrong in _said(_changed("ravel-spd-t2", spd=changed))[0]


def test_a_pairing_names_a_breaker_of_the_catalogue() -> None:
    spd = SHIPPED.devices["ravel-spd-t2"].spd
    assert spd is not None
    pairing = TestedPairing(mcb="ravel-mcb-c33", carried_8x20_a=20_000)
    changed = spd.model_copy(update={"tested": (pairing,)})

    said = _said(_changed("ravel-spd-t2", spd=changed))[0]

    assert "spd.tested.mcb: found 'ravel-mcb-c33', expected the id of an MCB" in said


def test_a_type_1_needs_its_impulse_current() -> None:
    spd = SHIPPED.devices["ravel-spd-t12"].spd
    assert spd is not None
    changed = spd.model_copy(update={"iimp_10x350_a": None})

    assert "Iimp" in _said(_changed("ravel-spd-t12", spd=changed))[0]


def test_terminals_of_one_side_stand_apart() -> None:
    device = SHIPPED.devices["ravel-rcbo-b6"]
    crowded = device.terminals[1].model_copy(update={"offset_mm": 6.0})

    said = _said(_changed(device.id, terminals=(device.terminals[0], crowded)))

    assert "at least 5 mm from terminal L-out" in said[0]


def test_an_spd_has_a_terminal_for_every_conductor() -> None:
    device = SHIPPED.devices["ravel-spd-t2"]

    assert "terminals for L, N, PE" in _said(_changed(device.id, terminals=device.terminals[:2]))[0]


def test_an_enclosure_s_main_switch_must_exist() -> None:
    box = SHIPPED.enclosures["ravel-r1-12"].model_copy(update={"main_switch": "ravel-ms-60"})
    changed = replace(SHIPPED, enclosures={**SHIPPED.enclosures, box.id: box})

    assert "ravel-ms-60" in _said(changed)[0]


@pytest.mark.parametrize("device", SHIPPED.devices.values(), ids=list(SHIPPED.devices))
def test_every_board_device_can_be_fed_and_loaded(device: DeviceType) -> None:
    """Common practice, no source: the poles of one conductor have a supply and a load side."""
    if device.spd is not None:
        return
    sides = {(t.conductor, t.role) for t in device.terminals}

    for conductor, _ in sides:
        assert {(conductor, "supply"), (conductor, "load")} <= sides
