"""What was done at the board: stored once, never lost, and shown where devices disagree."""

from dataclasses import replace
from typing import Any

import pytest

from boardwright.core.errors import FieldError
from boardwright.store.events import Event, standing
from boardwright.store.store import Store
from tests.store.home import START, TEXT, reading, stamp

KEY = ("reading", "circuits.ring.zs_ohm")


def test_a_queue_sent_twice_is_stored_once(store: Store) -> None:
    store.create(TEXT, stamp())
    queue = [reading(number, number / 10) for number in range(1, 6)]

    first = store.add_events("number-7", queue[:3])
    second = store.add_events("number-7", queue)
    third = store.add_events("number-7", [queue[0], queue[0]])

    assert [len(group.added) for group in (first, second, third)] == [3, 2, 0]
    assert [len(group.known) for group in (first, second, third)] == [0, 3, 2]
    kept = store.events("number-7")
    assert [event.number for event in kept] == [1, 2, 3, 4, 5]
    assert [replace(event, number=0) for event in kept] == queue


def test_one_id_for_two_readings_is_told_and_the_first_stays(store: Store) -> None:
    store.create(TEXT, stamp())
    store.add_events("number-7", [reading(1, 0.4)])

    received = store.add_events("number-7", [reading(1, 0.5), reading(2, 0.6)])

    assert [event.value for event in received.clashing] == [0.5]
    assert [event.value for event in store.events("number-7")] == [0.4, 0.6]


def test_only_news_is_asked_for(store: Store) -> None:
    store.create(TEXT, stamp())
    store.add_events("number-7", [reading(number) for number in range(1, 4)])

    assert [event.number for event in store.events("number-7", after=2)] == [3]
    assert store.events("number-7", after=3) == ()


@pytest.mark.parametrize(
    "value", [None, True, 0, 0.1, "Ω – \u0000 ü", [1, [2]], {"width": 400, "name": "a.jpg"}]
)
def test_any_value_of_json_comes_back(store: Store, value: Any) -> None:  # noqa: ANN401 - as said
    store.create(TEXT, stamp())
    store.add_events("number-7", [reading(1, value)])

    (kept,) = store.events("number-7")

    assert kept.value == value
    assert kept.at == reading(1).at


def test_a_long_queue_goes_in_whole(store: Store) -> None:
    store.create(TEXT, stamp())
    queue = [reading(number) for number in range(1, 1201)]

    store.add_events("number-7", queue)

    assert len(store.add_events("number-7", queue).known) == 1200


def test_a_correction_takes_the_place_of_what_it_had_seen() -> None:
    first = replace(reading(1, 0.4), number=1)
    own = replace(reading(2, 0.5), number=2)
    other = replace(reading(3, 0.6, device="laptop", seen=2), number=3)

    assert standing([first, own])[KEY] == (own,)
    assert standing([first, own, other])[KEY] == (other,)


def test_two_devices_that_had_not_seen_each_other_both_stand() -> None:
    phone = replace(reading(1, 0.4), number=1)
    laptop = replace(reading(1, 0.6, device="laptop"), number=2)
    answer = replace(reading(2, 0.5, seen=2), number=3)

    assert standing([laptop, phone])[KEY] == (phone, laptop)
    assert standing([phone, laptop, answer])[KEY] == (answer,)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"id": ""}, "event.id"),
        ({"id": "x" * 65}, "event.id"),
        ({"id": "../x"}, "event.id"),
        ({"device": "a b"}, "event.device"),
        ({"kind": "Tick"}, "event.kind"),
        ({"subject": "a\nb"}, "event.subject"),
        ({"who": ""}, "event.who"),
        ({"at": START.replace(tzinfo=None)}, "event.at"),
        ({"value": float("nan")}, "event.value"),
        ({"value": {1, 2}}, "event.value"),
        ({"value": "x" * 70_000}, "event.value"),
    ],
)
def test_an_event_that_cannot_be_kept_says_which_field(change: dict[str, Any], field: str) -> None:
    fields: dict[str, Any] = {
        name: getattr(reading(1), name) for name in Event.__dataclass_fields__
    }

    with pytest.raises(FieldError, match=f"^{field}: found"):
        Event(**fields | change)
