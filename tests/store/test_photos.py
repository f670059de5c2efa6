"""Photos in the store: kept once, with their event or not at all; homes put away and taken out."""

import hashlib
from dataclasses import replace

import pytest

from boardwright.core.errors import FieldError
from boardwright.store import photos
from boardwright.store.errors import UnknownJob
from boardwright.store.events import Event
from boardwright.store.photos import Photo
from boardwright.store.store import Store
from tests.store.home import TEXT, reading, stamp

PHOTO = Photo("image/jpeg", b"\xff\xd8\xff" + bytes(range(256)) * 5000)


def away(number: int, *, gone: bool) -> Event:
    return replace(reading(number), kind="away", subject="number-7", value=gone)


def test_a_photo_comes_back_as_it_went_in(store: Store) -> None:
    store.create(TEXT, stamp())

    store.add_photo("number-7", PHOTO, reading(1))

    assert store.photo("number-7", hashlib.sha256(PHOTO.content).hexdigest()) == PHOTO
    assert [event.number for event in store.events("number-7")] == [1]


def test_a_photo_sent_twice_is_kept_once(store: Store) -> None:
    store.create(TEXT, stamp())

    store.add_photo("number-7", PHOTO, reading(1))
    again = store.add_photo("number-7", PHOTO, reading(1))
    elsewhere = store.add_photo("number-7", PHOTO, reading(2))

    assert (len(again.known), len(elsewhere.added)) == (1, 1)
    assert len(store.events("number-7")) == 2


def test_a_photo_of_another_home_is_none_of_this_one(store: Store) -> None:
    store.create(TEXT, stamp())
    store.create(TEXT.replace("number-7", "number-8"), stamp())
    store.add_photo("number-7", PHOTO, reading(1))

    with pytest.raises(UnknownJob, match="no such photo"):
        store.photo("number-8", PHOTO.sha256)
    with pytest.raises(UnknownJob, match="no job"):
        store.add_photo("nowhere", PHOTO, reading(1))


def test_too_many_photos_are_refused_with_their_event(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photos, "MOST_OF_A_JOB", 1)
    store.create(TEXT, stamp())
    store.add_photo("number-7", PHOTO, reading(1))

    with pytest.raises(FieldError, match="at most 1 photos"):
        store.add_photo("number-7", Photo("image/png", b"x"), reading(2))

    assert len(store.events("number-7")) == 1


def test_a_home_is_put_away_and_taken_out_again(store: Store) -> None:
    store.create(TEXT, stamp())
    store.create(TEXT.replace("number-7", "number-8"), stamp())
    said = []
    for number, gone in enumerate((True, False, True), start=1):
        store.add_events("number-7", [away(number, gone=gone)])
        said.append(store.put_away())

    assert said == [{"number-7"}, frozenset(), {"number-7"}]
    assert len(store.jobs()) == 2
