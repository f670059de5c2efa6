"""Two writers on one job: merged where they differ, both kept where they do not."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from boardwright.store.records import Pulse
from boardwright.store.store import Store, open_store
from tests.store.home import (
    TEXT,
    clashed,
    job_of,
    put,
    reading,
    saved,
    stamp,
    with_ipf,
    with_length,
    with_ze,
    without,
)


def test_two_fields_are_merged_and_every_comment_stays(store: Store) -> None:
    store.create(TEXT, stamp())
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))

    kept = saved(store.save("number-7", with_length(TEXT, "shower", 15), base=1, stamp=stamp(2)))

    both = put(put(TEXT, "ze_ohm: 0.21", "ze_ohm: 0.3"), "length_m: 14}", "length_m: 15}")
    assert kept.text == both
    assert (kept.number, kept.change.base, kept.change.merged) == (3, 1, True)


def test_a_merged_save_sent_again_makes_no_version(store: Store) -> None:
    store.create(TEXT, stamp())
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    text = with_length(TEXT, "shower", 15)

    first = saved(store.save("number-7", text, base=1, stamp=stamp(2)))
    again = saved(store.save("number-7", text, base=1, stamp=stamp(3)))

    assert again == first
    assert len(store.history("number-7")) == 3


def test_a_save_sent_again_after_another_has_corrected_it_is_no_conflict(store: Store) -> None:
    store.create(TEXT, stamp())
    text = with_ze(TEXT, 0.3)
    first = saved(store.save("number-7", text, base=1, stamp=stamp(1)))
    store.save("number-7", with_ze(TEXT, 0.4), base=2, stamp=stamp(2, who="other"))

    again = saved(store.save("number-7", text, base=1, stamp=stamp(1)))

    assert again == first
    assert store.latest("number-7").text == with_ze(TEXT, 0.4)
    assert store.conflicts("number-7") == ()


def test_two_texts_of_one_moment_are_two_saves(store: Store) -> None:
    store.create(TEXT, stamp())
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))

    kept = saved(store.save("number-7", with_ipf(TEXT, 900), base=1, stamp=stamp(1)))

    assert kept.text == with_ipf(with_ze(TEXT, 0.3), 900)


def test_comments_of_an_editor_meet_fields_of_the_page(store: Store) -> None:
    commented = put(TEXT, "ipf_a: 1100\n", "ipf_a: 1100   # read twice\n")
    for job_id, first, second in (
        ("one", commented, with_ze(TEXT, 0.3)),
        ("two", with_ze(TEXT, 0.3), commented),
    ):
        texts = [put(text, "id: number-7", f"id: {job_id}") for text in (TEXT, first, second)]
        store.create(texts[0], stamp())
        store.save(job_id, texts[1], base=1, stamp=stamp(1))

        kept = saved(store.save(job_id, texts[2], base=1, stamp=stamp(2)))

        assert "ipf_a: 1100   # read twice\n" in kept.text
        assert "ze_ohm: 0.3   " in kept.text


def test_one_field_changed_twice_is_a_conflict_that_keeps_both(store: Store) -> None:
    store.create(TEXT, stamp())
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))

    conflict = clashed(store.save("number-7", with_ze(TEXT, 0.4), base=1, stamp=stamp(2)))

    (clash,) = conflict.clashes
    assert (clash.path, clash.base, clash.mine, clash.theirs) == ("supply.ze_ohm", 0.21, 0.4, 0.3)
    assert conflict.mine.text == with_ze(TEXT, 0.4)
    assert conflict.theirs.text == store.latest("number-7").text == with_ze(TEXT, 0.3)
    assert conflict.reason == "Both changed supply.ze_ohm."
    assert store.jobs()[0].open_conflicts == 1


def test_what_was_set_aside_is_still_there_after_a_restart(place: str) -> None:
    first = open_store(place)
    first.create(TEXT, stamp())
    first.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    conflict = clashed(first.save("number-7", with_ze(TEXT, 0.4), base=1, stamp=stamp(2)))
    clashed(first.save("number-7", with_ze(TEXT, 0.4), base=1, stamp=stamp(2)))
    first.close()

    again = open_store(place)

    assert again.conflicts("number-7") == (conflict,)
    again.close()


def test_a_later_version_settles_a_conflict(store: Store) -> None:
    store.create(TEXT, stamp())
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    conflict = clashed(store.save("number-7", with_ze(TEXT, 0.4), base=1, stamp=stamp(2)))

    for _ in range(2):  # The second as if the first answer had been lost.
        kept = saved(
            store.save(
                "number-7",
                with_ze(TEXT, 0.4),
                base=2,
                stamp=stamp(3, why="mine was read with the bond off"),
                settles=conflict.mine.number,
            )
        )

    assert (kept.number, kept.change.settles) == (3, 1)
    assert store.conflicts("number-7") == ()
    assert store.jobs()[0].open_conflicts == 0


def test_a_conflict_may_be_settled_by_leaving_things_as_they_are(store: Store) -> None:
    store.create(TEXT, stamp())
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    clashed(store.save("number-7", with_ze(TEXT, 0.4), base=1, stamp=stamp(2)))

    kept = saved(store.save("number-7", with_ze(TEXT, 0.3), base=2, stamp=stamp(3), settles=1))

    assert kept.number == 3
    assert store.conflicts("number-7") == ()


def test_a_circuit_removed_by_one_and_measured_by_the_other(store: Store) -> None:
    store.create(TEXT, stamp())
    store.save("number-7", without(TEXT, "shower"), base=1, stamp=stamp(1))

    conflict = clashed(
        store.save("number-7", with_length(TEXT, "shower", 15), base=1, stamp=stamp(2))
    )

    assert [clash.path for clash in conflict.clashes] == ["circuits.shower"]


def test_changes_that_make_no_job_together_are_a_conflict(store: Store) -> None:
    store.create(TEXT, stamp())
    store.save("number-7", without(TEXT, "shower"), base=1, stamp=stamp(1))
    assumed = f"{TEXT}\nassumed: [circuits.shower.cable.length_m]\n"
    assert job_of(assumed).assumed

    conflict = clashed(store.save("number-7", assumed, base=1, stamp=stamp(2)))

    assert conflict.clashes == ()
    assert conflict.reason.startswith("Both changes together make no job: ")
    assert conflict.mine.text == assumed


def test_comments_changed_by_both_are_a_conflict(store: Store) -> None:
    store.create(TEXT, stamp())
    mine = put(TEXT, "# A home", "# Mine. A home")
    theirs = put(TEXT, "# A home", "# Theirs. A home")
    store.save("number-7", theirs, base=1, stamp=stamp(1))

    conflict = clashed(store.save("number-7", mine, base=1, stamp=stamp(2)))

    assert conflict.reason == "Both changed the file's comments or order."
    assert (conflict.mine.text, conflict.theirs.text) == (mine, theirs)


def test_threads_of_one_page_save_at_once_and_lose_nothing(store: Store) -> None:
    store.create(TEXT, stamp())
    edits: list[Callable[[str, int], str]] = [
        lambda text, step: with_ze(text, 0.3 + step / 100),
        lambda text, step: with_ipf(text, 900 + step),
        lambda text, step: with_length(text, "ring", 60 + step),
        lambda text, step: with_length(text, "shower", 20 + step),
    ]

    def work(edit: Callable[[str, int], str]) -> None:
        seen = store.latest("number-7")
        for step in range(1, 6):
            kept = store.save(
                "number-7", edit(seen.text, step), base=seen.number, stamp=stamp(step)
            )
            store.add_events("number-7", [reading(step, device=f"thread-{edits.index(edit)}")])
            seen = saved(kept)

    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(work, edits)) == [None] * 4

    text = TEXT
    for edit in edits:
        text = edit(text, 5)
    assert store.latest("number-7").text == text
    assert store.pulse("number-7") == Pulse(21, 20, 0)


def test_undo_does_not_undo_what_another_has_saved_meanwhile(store: Store) -> None:
    store.create(TEXT, stamp())
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    store.save("number-7", with_ipf(with_ze(TEXT, 0.3), 900), base=2, stamp=stamp(2, who="other"))

    kept = saved(store.restore("number-7", 1, base=2, stamp=stamp(3, why="undo")))

    assert kept.text == put(TEXT, "ipf_a: 1100", "ipf_a: 900")
    assert kept.change.restores == 1
