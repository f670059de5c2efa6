"""Matching a device to what a circuit asks for."""

import pytest

from boardwright.board.match import Ask, device_for
from boardwright.catalogue.devices import DeviceType, Kind
from tests.board.boards import catalogue


def _range(family: str) -> tuple[DeviceType, ...]:
    devices = catalogue().devices.values()
    return tuple(device for device in devices if family in device.permitted_families)


RCBO = Ask(Kind.RCBO, in_a=32, curve="B", rcd_type="A", idn_a=0.03)


def test_the_plainest_device_that_serves_is_taken() -> None:
    found = device_for(RCBO, _range("ravel-r1"))

    assert isinstance(found, DeviceType)
    assert (found.in_a, found.curve, found.rcd_type, found.modules) == (32, "B", "A", 1)


@pytest.mark.parametrize(
    ("rcd_type", "least"), [("AC", {"A"}), ("A", {"A"}), ("F", {"F"}), ("B", {"B"})]
)
def test_a_type_serves_for_every_type_it_contains(rcd_type: str, least: set[str]) -> None:
    """IEC 60755: A sees what AC sees, F what A sees, B what F sees."""
    ask = Ask(Kind.RCBO, in_a=32, curve="B", rcd_type=rcd_type, idn_a=0.03)

    found = device_for(ask, _range("ravel-r1"))

    assert isinstance(found, DeviceType)
    assert {found.rcd_type} == least


def test_a_two_way_circuit_takes_only_what_its_maker_declares() -> None:
    """A maker's silence is no word for energy in both directions."""
    ask = Ask(Kind.RCBO, in_a=32, curve="B", rcd_type="A", idn_a=0.03, bidirectional=True)
    silent = [d.model_copy(update={"bidirectional": None}) for d in _range("tarn-t3")]

    found = device_for(ask, _range("tarn-t3"))

    assert isinstance(found, DeviceType)
    assert found.bidirectional is True
    assert "both directions" in str(device_for(ask, silent))


@pytest.mark.parametrize(
    ("ask", "reason"),
    [
        (Ask(Kind.RCBO, in_a=33, curve="B"), "no RCBO B33: none of 33 A"),
        (Ask(Kind.RCBO, in_a=32, curve="D"), "none with curve D"),
        (Ask(Kind.RCBO, in_a=32, curve="B", idn_a=0.3), "none with 0.3 A residual"),
        (Ask(Kind.RCBO, in_a=32, curve="B", poles=4), "none switches 4 poles"),
        (Ask(Kind.RCBO, phases=3, in_a=32, curve="B"), "no RCBO for 3-phase use"),
        (Ask(Kind.FUSE_SWITCH, in_a=60), "the range has no switch-fuse"),
    ],
)
def test_the_reason_names_the_first_thing_that_fails(ask: Ask, reason: str) -> None:
    found = device_for(ask, _range("ravel-r1"))

    assert isinstance(found, str)
    assert reason in found


def test_a_least_rating_takes_the_next_one_made() -> None:
    ask = Ask(Kind.RCCB, in_min_a=70, poles=2, rcd_type="A", idn_a=0.03)

    found = device_for(ask, _range("ravel-r1"))

    assert isinstance(found, DeviceType)
    assert found.in_a == 80


def test_a_time_delay_is_neither_forgotten_nor_given_unasked() -> None:
    delayed = device_for(Ask(Kind.RCCB, in_min_a=100, time_delayed=True), _range("ravel-r1"))
    prompt = device_for(Ask(Kind.RCCB, in_min_a=100), _range("ravel-r1"))

    assert isinstance(delayed, DeviceType)
    assert isinstance(prompt, DeviceType)
    assert (delayed.time_delayed, prompt.time_delayed) == (True, False)
