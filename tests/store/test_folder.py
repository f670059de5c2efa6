"""A folder of job files, opened and written back."""

import difflib
import shutil
from pathlib import Path

import pytest

from boardwright.core.errors import FileError
from boardwright.job.write import job_text
from boardwright.store.folder import Row, open_folder, write_folder
from boardwright.store.store import Store
from tests.habits.source import ROOT
from tests.store.home import TEXT, job_of, put, saved, stamp, with_length, with_ze

EXAMPLES = sorted((ROOT / "examples").glob("*.yaml"))


def test_every_example_comes_back_to_the_letter(store: Store, tmp_path: Path) -> None:
    source, target = _folders(tmp_path)
    for path in EXAMPLES:
        shutil.copy(path, source)

    opened = open_folder(store, source, stamp())
    written = write_folder(store, target, stamp(1))

    assert [row.outcome for row in opened] == ["new"] * len(EXAMPLES)
    assert {row.outcome for row in written} == {"written"}
    for path in EXAMPLES:
        assert (target / path.name).read_bytes() == path.read_bytes()


def test_a_change_in_the_store_changes_its_lines_of_the_file_alone(
    store: Store, tmp_path: Path
) -> None:
    for path in EXAMPLES:
        shutil.copy(path, tmp_path)
    open_folder(store, tmp_path, stamp())
    for listed in store.jobs():
        text = store.latest(listed.id).text
        job = job_of(text)
        supply = job.supply.model_copy(update={"ze_ohm": 0.17})
        new = job_text(job.model_copy(update={"supply": supply}), text)
        store.save(listed.id, new, base=1, stamp=stamp(1))

    write_folder(store, tmp_path, stamp(2))

    for path in EXAMPLES:
        lines = path.read_text().splitlines(), (tmp_path / path.name).read_text().splitlines()
        changed = [line for line in difflib.ndiff(*lines) if line[0] in "+-"]
        assert changed
        assert all("ze_ohm" in line for line in changed)


def test_an_edit_of_the_file_is_a_new_version(store: Store, tmp_path: Path) -> None:
    path = _opened(store, tmp_path)
    edited = put(TEXT, "# A home", "# Read again on Tuesday. A home")
    path.write_text(edited)

    rows = [open_folder(store, tmp_path, stamp(1))[0] for _ in range(2)]

    assert [row.outcome for row in rows] == ["saved", "same"]
    assert store.latest("number-7").text == edited
    assert store.latest("number-7").number == 2


def test_edits_of_the_file_and_the_page_meet_in_the_file(store: Store, tmp_path: Path) -> None:
    path = _opened(store, tmp_path)
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    path.write_text(put(TEXT, "ipf_a: 1100", "ipf_a: 900     # new transformer"))

    (row,) = open_folder(store, tmp_path, stamp(2))

    assert row.outcome == "merged"
    assert "ze_ohm: 0.3 " in path.read_text()
    assert "ipf_a: 900     # new transformer" in path.read_text()
    assert path.read_text() == store.latest("number-7").text
    assert open_folder(store, tmp_path, stamp(3))[0].outcome == "same"


def test_a_clash_leaves_the_file_and_keeps_both(store: Store, tmp_path: Path) -> None:
    path = _opened(store, tmp_path)
    store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1))
    path.write_text(with_ze(TEXT, 0.4))

    rows = [open_folder(store, tmp_path, stamp(2))[0] for _ in range(2)]
    written = write_folder(store, tmp_path, stamp(3))

    assert [row.outcome for row in rows] == ["conflict, both kept: Both changed supply.ze_ohm."] * 2
    assert written[0].outcome.startswith("left: the file has changes of its own")
    assert path.read_text() == with_ze(TEXT, 0.4)
    (conflict,) = store.conflicts("number-7")
    assert conflict.mine.text == with_ze(TEXT, 0.4)


def test_a_file_edited_since_is_not_written_over(store: Store, tmp_path: Path) -> None:
    path = _opened(store, tmp_path)
    saved(store.save("number-7", with_ze(TEXT, 0.3), base=1, stamp=stamp(1)))
    path.write_text(with_length(TEXT, "ring", 60))

    (row,) = write_folder(store, tmp_path, stamp(2))

    assert row.outcome.startswith("left: the file has changes of its own")
    assert path.read_text() == with_length(TEXT, "ring", 60)


def test_a_strangers_file_of_that_name_is_left(store: Store, tmp_path: Path) -> None:
    store.create(TEXT, stamp())
    (tmp_path / "number-7.yaml").write_text("not ours")

    assert write_folder(store, tmp_path, stamp(1))[0].outcome.startswith("left")
    assert (tmp_path / "number-7.yaml").read_text() == "not ours"


def test_a_file_that_is_no_job_is_told_and_the_others_go_in(store: Store, tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text(TEXT)
    (tmp_path / "b.yaml").write_text("title: [")
    (tmp_path / "c.yml").write_text(TEXT)
    (tmp_path / "notes.txt").write_text("no job")

    rows = open_folder(store, tmp_path, stamp())

    assert [(row.file, row.job_id) for row in rows] == [
        ("a.yaml", "number-7"),
        ("b.yaml", ""),
        ("c.yml", "number-7"),
    ]
    assert rows[1].outcome.startswith("b.yaml, line ")
    assert rows[2] == Row("c.yml", "number-7", "left: its id stands in a.yaml too")


def test_two_jobs_of_one_file_name_get_a_file_each(store: Store, tmp_path: Path) -> None:
    for number in (1, 2):
        text = put(TEXT, "id: number-7", f"id: home-{number}")
        store.create(text, stamp(number), file="home.yaml")

    write_folder(store, tmp_path, stamp(3))

    found = {path.name: job_of(path.read_text()).id for path in tmp_path.glob("*.yaml")}
    assert found == {"home.yaml": "home-1", "home-2.yaml": "home-2"}


def test_line_ends_of_another_system_stay(store: Store, tmp_path: Path) -> None:
    source, target = _folders(tmp_path)
    (source / "mill.yaml").write_bytes(TEXT.replace("\n", "\r\n").encode())

    open_folder(store, source, stamp())
    write_folder(store, target, stamp(1))

    assert (target / "mill.yaml").read_bytes() == TEXT.replace("\n", "\r\n").encode()


def test_a_missing_folder_is_told(store: Store, tmp_path: Path) -> None:
    with pytest.raises(FileError, match="no such folder"):
        open_folder(store, tmp_path / "nowhere", stamp())


def _opened(store: Store, folder: Path) -> Path:
    path = folder / "mill.yaml"
    path.write_text(TEXT)
    assert [row.outcome for row in open_folder(store, folder, stamp())] == ["new"]
    return path


def _folders(parent: Path) -> tuple[Path, Path]:
    source, target = parent / "source", parent / "target"
    source.mkdir()
    target.mkdir()
    return source, target
