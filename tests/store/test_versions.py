"""Jobs as versions: saved, read, repeated; on a file and on a server alike."""

from datetime import timedelta

import pytest

from boardwright.core.errors import BoardwrightError, FieldError
from boardwright.store.errors import UnknownJob
from boardwright.store.records import Pulse, Stamp
from boardwright.store.store import Store, open_store
from tests.store.home import (
    START,
    TEXT,
    put,
    reading,
    saved,
    stamp,
    with_ze,
)


def test_a_job_comes_back_with_its_comments_and_its_stamp(store: Store) -> None:
    store.create(TEXT, stamp(), file="mill.yaml")

    latest = store.latest("number-7")

    assert latest.text == TEXT
    assert latest.change.stamp == Stamp("surveyor", "survey", START)
    assert [(job.id, job.file, job.title) for job in store.jobs()] == [
        ("number-7", "mill.yaml", "7 Mill Lane")
    ]


def test_a_store_opened_again_has_what_was_saved(place: str) -> None:
    first = open_store(place)
    first.create(TEXT, stamp())
    first.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    first.close()

    again = open_store(place)

    assert [change.number for change in again.history("number-7")] == [1, 2]
    assert again.version("number-7", 1).text == TEXT
    assert again.latest("number-7").text == put(TEXT, "ze_ohm: 0.21", "ze_ohm: 0.3")
    again.close()


def test_who_when_and_why_stand_beside_each_version(store: Store) -> None:
    store.create(TEXT, stamp())
    why = "Ze read again; the clamp was loose – 0.3 Ω"
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(7, who="Ann", why=why))

    first, second = store.history("number-7")

    assert first.stamp.at == START
    assert second.stamp == Stamp("Ann", why, START + timedelta(minutes=7))
    assert (second.base, second.merged, second.restores) == (1, False, None)


def test_a_version_is_found_by_the_time_it_stood(store: Store) -> None:
    store.create(TEXT, stamp(0))
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(10))

    found = [
        store.version_at("number-7", START + timedelta(minutes=minute)).number
        for minute in (0, 9, 10, 99)
    ]

    assert found == [1, 1, 2, 2]
    with pytest.raises(UnknownJob, match="no version yet"):
        store.version_at("number-7", START - timedelta(seconds=1))


def test_a_text_that_changes_nothing_makes_no_version(store: Store) -> None:
    store.create(TEXT, stamp())

    again = saved(store.save("number-7", TEXT, base=1, stamp=stamp(1)))

    assert again.number == 1


def test_a_save_sent_twice_is_kept_once(store: Store) -> None:
    store.create(TEXT, stamp())
    text = with_ze(TEXT, 0.3)

    first = saved(store.save("number-7", text, base=1, stamp=stamp(1)))
    second = saved(store.save("number-7", text, base=1, stamp=stamp(1)))

    assert first == second
    assert len(store.history("number-7")) == 2


def test_undo_and_redo_are_new_versions_that_repeat_old_ones(store: Store) -> None:
    store.create(TEXT, stamp())
    for minute, ze_ohm in enumerate((0.3, 0.4), start=1):
        text = with_ze(store.latest("number-7").text, ze_ohm)
        store.save("number-7", text, base=minute, stamp=stamp(minute))

    def go(number: int | None, minute: int) -> str:
        assert number is not None
        base = store.latest("number-7").number
        kept = store.restore("number-7", number, base=base, stamp=stamp(minute, why="undo"))
        return saved(kept).text

    texts = [
        go(store.steps("number-7").back, 3),
        go(store.steps("number-7").back, 4),
        go(store.steps("number-7").forward, 5),
        go(store.steps("number-7").forward, 6),
    ]

    assert texts == [with_ze(TEXT, 0.3), TEXT, with_ze(TEXT, 0.3), with_ze(TEXT, 0.4)]
    assert [change.restores for change in store.history("number-7")] == [None] * 3 + [2, 1, 2, 3]
    assert store.steps("number-7").forward is None


def test_any_old_version_can_be_repeated(store: Store) -> None:
    store.create(TEXT, stamp())
    for number in range(1, 6):
        text = with_ze(store.latest("number-7").text, 0.3 + number / 100)
        store.save("number-7", text, base=number, stamp=stamp(number))

    kept = saved(store.restore("number-7", 3, base=6, stamp=stamp(9, why="as it was")))

    assert kept.number == 7
    assert kept.text == store.version("number-7", 3).text
    assert len(store.history("number-7")) == 7


def test_the_list_shows_the_latest_change_first(store: Store) -> None:
    for number, minute in ((1, 5), (2, 9), (3, 7)):
        text = put(TEXT, "id: number-7", f"id: home-{number}")
        store.create(text, stamp(minute))
    text = put(put(TEXT, "id: number-7", "id: home-1"), "7 Mill Lane", "7 Mill Lane, rear")
    store.save("home-1", text, base=1, stamp=stamp(11, why="title"))

    listed = store.jobs()

    assert [job.id for job in listed] == ["home-1", "home-2", "home-3"]
    assert (listed[0].number, listed[0].title) == (2, "7 Mill Lane, rear")


def test_texts_of_several_homes_are_those_that_stand(store: Store) -> None:
    for number in (1, 2, 3):
        store.create(put(TEXT, "id: number-7", f"id: home-{number}"), stamp())
    later = put(store.latest("home-1").text, "7 Mill Lane", "7 Mill Lane, rear")
    store.save("home-1", later, base=1, stamp=stamp(11))

    texts = store.latest_texts(["home-1", "home-3", "nowhere"])

    assert texts == {"home-1": later, "home-3": store.latest("home-3").text}
    assert store.latest_texts([]) == {}


def test_the_pulse_moves_with_every_kind_of_news(store: Store) -> None:
    store.create(TEXT, stamp())
    pulses = [store.pulse("number-7")]
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    pulses.append(store.pulse("number-7"))
    store.add_events("number-7", [reading(1)])
    pulses.append(store.pulse("number-7"))
    store.save("number-7", with_ze(TEXT, 0.4), base=1, stamp=stamp(2))
    pulses.append(store.pulse("number-7"))

    assert pulses == [Pulse(1, 0, 0), Pulse(2, 0, 0), Pulse(2, 1, 0), Pulse(2, 1, 1)]


def test_an_id_is_given_once(store: Store) -> None:
    store.create(TEXT, stamp())

    with pytest.raises(FieldError, match="no job of the store has yet"):
        store.create(TEXT, stamp(1))
    with pytest.raises(FieldError, match=r"id: found 'number-8', expected number-7"):
        store.save("number-7", put(TEXT, "id: number-7", "id: number-8"), base=1, stamp=stamp(1))


def test_what_is_no_job_is_not_kept(store: Store) -> None:
    store.create(TEXT, stamp())

    with pytest.raises(BoardwrightError, match=r"line 12: supply\.ze_ohm"):
        store.save("number-7", put(TEXT, "ze_ohm: 0.21", "ze_ohm: -1"), base=1, stamp=stamp(1))

    assert store.latest("number-7").text == TEXT


@pytest.mark.parametrize("sign", ["\x00", "\ud800", "\x1b"])
def test_a_sign_that_no_file_holds_is_refused(store: Store, sign: str) -> None:
    with pytest.raises(BoardwrightError, match="found"):
        store.create(put(TEXT, "7 Mill Lane", f"7 {sign} Mill Lane"), stamp())

    assert store.jobs() == ()


def test_what_is_not_there_is_said(store: Store) -> None:
    with pytest.raises(UnknownJob, match="no job of that id"):
        store.latest("nowhere")
    with pytest.raises(UnknownJob, match="no job of that id"):
        store.save("number-7", TEXT, base=1, stamp=stamp())
    with pytest.raises(UnknownJob, match="no job of that id"):
        store.add_events("nowhere", [reading(1)])
    store.create(TEXT, stamp())
    with pytest.raises(UnknownJob, match="found version 2, expected one from 1 to 1"):
        store.save("number-7", TEXT, base=2, stamp=stamp())
    with pytest.raises(UnknownJob, match="number 1 waits"):
        store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(), settles=1)


@pytest.mark.parametrize(("who", "why"), [("", "x"), ("x", " "), ("a\nb", "x"), ("x" * 81, "x")])
def test_a_stamp_says_who_and_why_in_one_line(who: str, why: str) -> None:
    with pytest.raises(FieldError, match="one line of 1 to"):
        Stamp(who, why, START)


def test_a_stamp_has_a_time_zone() -> None:
    with pytest.raises(FieldError, match="time zone"):
        Stamp("a", "b", START.replace(tzinfo=None))
