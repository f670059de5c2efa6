"""A job file read, and everything that a job file may be instead."""

import os
from datetime import date
from pathlib import Path
from time import perf_counter

import pytest

from boardwright.core.errors import BoardwrightError, FieldError, FileError, InputErrors
from boardwright.job.read import parse_job, read_job
from boardwright.job.tree import MAX_BYTES
from tests.job.homes import HOME, line, said, saved, spoilt

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


def test_a_home_is_read_as_written(tmp_path: Path) -> None:
    job = read_job(saved(tmp_path, HOME))

    assert job.designed_on == date(2026, 11, 25)
    assert (job.supply.ze_ohm, job.supply.ipf_a) == (0.21, None)
    assert job.circuit("ring").cable.method == "100"
    assert job.circuit("shower").cable.method is None
    assert job.assumed == ("circuits.ring.cable.length_m",)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_read(path: Path) -> None:
    assert read_job(path).id == path.stem


def test_a_key_without_value_is_one_left_out() -> None:
    assert parse_job(spoilt("ze_ohm: 0.21", "ze_ohm:"), "x").supply.ze_ohm is None


def test_words_stay_words_as_in_yaml_1_2() -> None:
    """YAML 1.2.2, section 10.3.2: yes, no, on and 12:30:00 are text, and 010 is ten."""
    text = spoilt('"Number 7"  # as on the gate', "12:30:00").replace("ways: 6", "ways: 010")
    job = parse_job(text, "x")

    assert job.title == "12:30:00"
    assert job.existing_board is not None
    assert job.existing_board.ways == 10
    assert job.earthing.means_present == "yes"


def test_a_mark_of_byte_order_and_other_line_ends_do_no_harm(tmp_path: Path) -> None:
    path = saved(tmp_path, "\ufeff" + HOME.replace("\n", "\r\n"))

    assert read_job(path) == parse_job(HOME, "x")


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (b"", "home.yaml: found an empty file"),
        (b"# nothing yet\n", "home.yaml: found an empty file"),
        (b"title: caf\xe9\n", "home.yaml, line 1: found bytes that are no UTF-8 text"),
        (b"a: 1\nb: \xff\xfe\n", "home.yaml, line 2: found bytes that are no UTF-8 text"),
        (b"- a\n- b\n", "home.yaml, line 1: found a list, expected keys and values"),
        (b"just words\n", "home.yaml, line 1: found one value, expected keys and values"),
        (b"a: \x00\n", "home.yaml: found a character that no text file holds"),
    ],
)
def test_a_file_that_is_no_job_is_named(tmp_path: Path, content: bytes, found: str) -> None:
    path = tmp_path / "home.yaml"
    path.write_bytes(content)

    with pytest.raises(FileError) as caught:
        read_job(path)

    assert found in str(caught.value)


def test_a_missing_file_and_a_folder_are_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"no\.yaml: no such file\. `boardwright new`"):
        read_job(tmp_path / "no.yaml")
    with pytest.raises(FileError, match="found a folder, expected a job file"):
        read_job(tmp_path)
    with pytest.raises(FileError, match="cannot be read"):
        read_job(Path("a\0b"))


@pytest.mark.skipif(os.geteuid() == 0, reason="the administrator may read everything")
def test_a_file_that_may_not_be_read_is_named(tmp_path: Path) -> None:
    path = saved(tmp_path, HOME)
    path.chmod(0)

    with pytest.raises(FileError, match="may not be read by you"):
        read_job(path)


def test_a_file_of_10_mb_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "home.yaml"
    path.write_bytes(b"a: 1\n" * 2_000_000)
    start_s = perf_counter()

    with pytest.raises(FileError, match="found over 1 MB"):
        read_job(path)

    assert perf_counter() - start_s < 0.5
    assert "over 1 MB" in said("é" * (MAX_BYTES // 2 + 1))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a: &x [1]\n", "line 1: found an anchor or alias at a"),
        ("a: 1\nb: *x\n", "line 2: found an anchor or alias at b"),
        ("a: &x {b: *x}\n", "line 1: found an anchor or alias at a"),
        ("a: !!python/object/apply:os.system [ls]\n", "line 1: found a tag at a"),
        ("a: !!str 1\n", "found a tag at a"),
        ("!!map {a: 1}\n", "found a tag at the top"),
        ("a: 1\n!x b: 2\n", "line 2: found a tag"),
        ("%YAML 1.1\n---\na: yes\n", "found a line that starts with %"),
        ("a: 1\n---\nb: 2\n", "line 2: found a second document"),
        ("a: " + "[" * 500 + "]" * 500, "line 1: found over 12 levels"),
        ("a:\n" + "".join(" " * n + "- \n" for n in range(1, 40)), "found over 12 levels"),
        ("? [a, b]\n: 1\n", "found a list or section as a key"),
        ("<<: {a: 1}\n", "schema_version: found nothing"),
    ],
)
def test_what_yaml_allows_and_a_job_does_not_is_one_sentence(text: str, found: str) -> None:
    sentence = said(text)

    assert found in sentence
    assert "\n" not in sentence


def test_a_bomb_is_refused_at_its_first_anchor() -> None:
    bomb = 'a: &a ["x","x"]\n' + "".join(
        f"{b}: &{b} [{', '.join([f'*{a}'] * 9)}]\n"
        for a, b in zip("abcdefgh", "bcdefghi", strict=True)
    )

    assert "line 1: found an anchor or alias at a" in said(bomb)


def test_very_many_values_are_refused_soon() -> None:
    start_s = perf_counter()

    assert "found over 30000 values" in said("a:\n" + "- 1\n" * 200_000)
    assert perf_counter() - start_s < 20


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a: 1\n\tb: 2\n", "line 2: found"),
        ("a: b: c\n", "line 1: found a colon where none may stand"),
        ("a: 1\n   b: 2\n", "line 2: found"),
        ("a: 'x\n", "line 2: found a quote that is not closed"),
        ("a: [1, 2\n", "line 2: found a bracket or brace that is not closed"),
        ("a: 1\nb\nc: 2\n", "line 3: found a line without a colon after its key"),
        ("a: @x\n", "line 1: found a character that cannot start a value"),
    ],
)
def test_broken_yaml_is_named_with_its_line(text: str, found: str) -> None:
    assert f"home.yaml, {found}" in said(text)


def test_a_key_that_stands_twice_is_named_with_both_lines() -> None:
    text = spoilt("ze_ohm: 0.21", "ze_ohm: 0.21\n  ze_ohm: 0.3")
    first = line(text, "ze_ohm: 0.21")

    with pytest.raises(FieldError) as caught:
        parse_job(text, "home.yaml")

    assert caught.value.path == "supply.ze_ohm"
    assert caught.value.place == f"home.yaml, line {first + 1}"
    assert f"each key once; it stands on line {first} too" in str(caught.value)


def test_the_version_of_the_form_must_be_known() -> None:
    assert said(spoilt("schema_version: 1\n", "")) == (
        "home.yaml, line 2: schema_version: found nothing, expected 1, the version of the job file."
        " Add the line 'schema_version: 1'."
    )
    newer = said(spoilt("schema_version: 1", "schema_version: 2"))
    assert newer.startswith("home.yaml, line 2: schema_version: found 2, expected 1")
    assert "written by a newer program" in newer
    assert "found 'one'" in said(spoilt("schema_version: 1", "schema_version: one"))
    assert "found True" in said(spoilt("schema_version: 1", "schema_version: true"))


@pytest.mark.parametrize("value", ["1", "1\n? 2\n: 3", "&x 1"])
def test_a_strange_key_cannot_break_or_colour_the_sentence(value: str) -> None:
    key = r'"\e[31m\nhome.yaml, line 1: ' + "x" * 500 + '"'
    sentence = said(f"{HOME}{key}: {value}\n")

    assert "\x1b" not in sentence
    assert all(len(row) < 400 for row in sentence.splitlines())
    assert sentence.count("home.yaml, line 1:") == sentence.count(r"\nhome.yaml, line 1:")


def test_errors_come_together_in_the_order_of_their_lines() -> None:
    text = HOME.replace("0.21", "0,21").replace("ways: 6", "ways: 300").replace("55", "-55")

    with pytest.raises(InputErrors) as caught:
        parse_job(text, "home.yaml")

    places = [error.place for error in caught.value.errors if isinstance(error, FieldError)]
    assert places == [f"home.yaml, line {line(text, piece)}" for piece in ("0,21", "300", "-55")]


def test_of_very_many_errors_ten_are_shown() -> None:
    text = HOME + "".join(f"stray_{n}: 1\n" for n in range(25))

    sentences = said(text).splitlines()

    assert len(sentences) == 11
    assert sentences[-1] == "home.yaml: and 15 more."


def test_a_huge_number_is_shown_short() -> None:
    sentence = said(spoilt("0.21", "9" * 10_000))

    assert "supply.ze_ohm: found '999" in sentence
    assert len(sentence) < 300


def test_every_error_is_one_that_a_person_is_meant_to_read() -> None:
    for error in (FieldError, FileError, InputErrors):
        assert issubclass(error, BoardwrightError)
