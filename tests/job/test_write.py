"""A job saved: what changed is written, all else stays, and never half a file."""

import os
import re
from datetime import date
from difflib import unified_diff
from pathlib import Path
from typing import Any

import pytest

from boardwright.core.errors import BoardwrightError, FileError
from boardwright.job.job import Job
from boardwright.job.read import parse_job, read_job
from boardwright.job.schema import job_schema
from boardwright.job.write import save_job, starter
from tests.job.homes import HOME, saved, spoilt


def _changed(job: Job, changes: dict[str, Any]) -> Job:
    """Return the job with values changed, each at its dotted path of keys and numbers."""
    data: Any = job.model_dump(mode="json")
    for path, value in changes.items():
        *way, last = [int(step) if step.isdigit() else step for step in path.split(".")]
        inside: Any = data
        for step in way:
            inside = inside[step]
        inside[last] = value
    return Job.model_validate(data)


def _diff(tmp_path: Path, changes: dict[str, Any], text: str = HOME) -> list[str]:
    """Return the lines that saving changed, and see that the file says the new job."""
    path = saved(tmp_path, text)
    job = _changed(read_job(path), changes)
    save_job(job, path)
    assert read_job(path) == job
    new = path.read_bytes().decode()
    lines = unified_diff(text.splitlines(), new.splitlines(), lineterm="", n=0)
    return [line for line in lines if not line.startswith(("@@", "---", "+++"))]


def test_saving_an_unchanged_job_leaves_every_byte_and_the_files_date(tmp_path: Path) -> None:
    path = saved(tmp_path, HOME)
    os.utime(path, (1, 1))

    save_job(read_job(path), path)

    assert path.read_text() == HOME
    assert path.stat().st_mtime == 1


@pytest.mark.parametrize(
    ("changes", "diff"),
    [
        ({"supply.ze_ohm": 0.35}, ["-  ze_ohm: 0.21", "+  ze_ohm: 0.35"]),
        (
            {"title": 'The "Oaks"'},
            ['-title: "Number 7"  # as on the gate', '+title: "The \\"Oaks\\""  # as on the gate'],
        ),
        (
            {"circuits.1.name": "Ann's shower"},
            ["-    name: 'Shower'", "+    name: 'Ann''s shower'"],
        ),
        ({"premises.occupier": "owner"}, ["-premises: {kind: house}",
                                          "+premises: {kind: house, occupier: owner}"]),
        ({"supply.ze_ohm": None}, ["-  ze_ohm: 0.21"]),
        (
            {"supply.ipf_a": 1250.0, "supply.tails.csa_mm2": 25},
            ["+  ipf_a: 1250", "+  tails:", "+    csa_mm2: 25"],
        ),
        ({"supply.phases": 3}, ["+  phases: 3"]),
        ({"circuits.1.cable.method": "102"}, ['+      method: "102"']),
        ({"circuits.1.way": 5}, ["-    way: 4", "+    way: 5"]),
        (
            {"circuits.0.cable.length_m": 56},
            [
                "-    cable: {line_mm2: 2.5, cpc_mm2: 1.5, length_m: 55, method: 100}",
                "+    cable: {line_mm2: 2.5, cpc_mm2: 1.5, length_m: 56, method: 100}",
            ],
        ),
        ({"assumed": []}, ["-assumed: [circuits.ring.cable.length_m]", "+assumed: []"]),
        ({"wishes.board": "new"}, ["-wishes: {board: compare}", "+wishes: {board: new}"]),
        (
            {"earthing.bonds": [{"service": "gas", "present": "yes"}]},
            ["+  bonds:", "+    - service: gas", "+      present: yes"],
        ),
        (
            {"existing_board.devices.0.in_a": 20},
            [
                "-    - {way: 1, kind: MCB, in_a: 32, circuit: ring}",
                "+    - {way: 1, kind: MCB, in_a: 20, circuit: ring}",
            ],
        ),
        ({"circuits.0.appliances.0.position_m": None},
         ["-      - {id: tv, kind: television, position_m: 20}",
          "+      - {id: tv, kind: television}"]),
    ],
)  # fmt: skip
def test_only_what_changed_is_written(
    tmp_path: Path, changes: dict[str, Any], diff: list[str]
) -> None:
    assert _diff(tmp_path, changes) == diff


def test_a_circuit_takes_its_comment_along(tmp_path: Path) -> None:
    path = saved(tmp_path, HOME)
    job = read_job(path)

    save_job(job.model_copy(update={"circuits": job.circuits[::-1]}), path)

    text = path.read_text()
    order = [text.index(p) for p in ("# the shower", "id: shower", "# the ring", "id: ring\n")]
    assert order == sorted(order)


def test_a_circuit_that_goes_takes_its_comment_and_nothing_else(tmp_path: Path) -> None:
    gone = HOME[HOME.index("\n  # the shower") : HOME.index("wishes:")].removeprefix("\n")
    path = saved(tmp_path, HOME)
    job = read_job(path)

    save_job(job.model_copy(update={"circuits": job.circuits[:1]}), path)

    assert path.read_text() == HOME.replace(f"\n{gone}", "")


def test_a_new_circuit_comes_at_its_place(tmp_path: Path) -> None:
    path = saved(tmp_path, HOME)
    job = read_job(path)
    new = job.circuits[1].model_copy(update={"id": "cooker", "way": 3})
    changed = job.model_copy(update={"circuits": (job.circuits[0], new, job.circuits[1])})

    save_job(changed, path)

    text = path.read_text()
    assert read_job(path) == changed
    assert text.index("id: ring\n") < text.index("id: cooker") < text.index("# the shower")


def test_the_ends_of_lines_stay_as_they_were(tmp_path: Path) -> None:
    text = HOME.replace("\n", "\r\n")
    path = saved(tmp_path, text)

    save_job(_changed(read_job(path), {"supply.ipf_a": 900, "supply.ze_ohm": None}), path)

    raw = path.read_bytes()
    assert raw.count(b"\n") == raw.count(b"\r\n") == text.count("\n")


def test_values_stand_in_quotes_only_where_they_must(tmp_path: Path) -> None:
    path = tmp_path / "new.yaml"
    rooms = [
        "hall",
        "No",
        "null",
        "a: b",
        "a # b",
        " a",
        "tab\there",
        "0x1F",
        "12",
        "é",
        "-",
    ]
    circuits = [
        {
            **parse_job(HOME, "x").circuit("shower").model_dump(),
            "id": f"c{n}",
            "room": room,
            "way": None,
        }
        for n, room in enumerate(rooms)
    ]
    job = parse_job(HOME, "x").model_copy(update={"circuits": (), "assumed": ()})
    job = Job.model_validate({**job.model_dump(), "circuits": circuits, "existing_board": None,
                              "wishes": {}})  # fmt: skip

    save_job(job, path)

    assert read_job(path) == job
    assert re.findall(r"room: (.*)", path.read_text()) == [
        "hall", "No", '"null"', '"a: b"', '"a # b"', '" a"', '"tab\\there"',
        '"0x1F"', '"12"', '"é"', '"-"',
    ]  # fmt: skip


def test_a_value_left_empty_is_filled_in_before_its_comment(tmp_path: Path) -> None:
    text = spoilt("ze_ohm: 0.21", "ze_ohm:      # not yet")

    assert _diff(tmp_path, {"supply.ze_ohm": 0.3}, text) == [
        "-  ze_ohm:      # not yet",
        "+  ze_ohm: 0.3      # not yet",
    ]


@pytest.mark.parametrize(
    ("old", "new", "changes", "diff"),
    [
        (
            "way: 4",
            "load:   # rating plate",
            {"circuits.1.load.power_w": 9500},
            ["-    load:   # rating plate", "+    load:", "+      power_w: 9500   # rating plate"],
        ),
        (
            "way: 4",
            "appliances:\n    way: 4",
            {"circuits.1.appliances": [{"id": "a", "kind": "kettle"}]},
            ["+      - id: a", "+        kind: kettle"],
        ),
        (
            "[circuits.ring.cable.length_m]",
            "\n  - supply.ze_ohm  # off the card\n  # guessed\n  - circuits.ring.cable",
            {"assumed": ["supply.phases", "circuits.ring.cable"]},
            ["-  - supply.ze_ohm  # off the card", "+  - supply.phases"],
        ),
        (
            "{board: compare}",
            "\n  keep_apart:\n    - [ring, shower]  # one stays on\n    - [shower]",
            {"wishes.keep_apart": [["shower", "ring"], ["shower"]]},
            [
                "-    - [ring, shower]  # one stays on",
                "+    - [shower, ring]  # one stays on",
            ],
        ),
        (
            "{board: compare}",
            "\n  keep_apart:\n  - - ring\n    - shower",
            {"wishes.keep_apart": [["shower"]]},
            ["-  - - ring", "-    - shower", "+  - [shower]"],
        ),
        (
            '"Number 7"  # as on the gate',
            "|\n  Number 7\n  The Lane\n",
            {"title": "Seven"},
            ["-title: |", "-  Number 7", "-  The Lane", "+title: Seven"],
        ),
        (
            "    cable:\n      line_mm2: 10\n",
            "    cable:\n      method: C\n      line_mm2: 10\n",
            {"circuits.1.cable.method": None, "circuits.1.cable.type": "singles"},
            ["-      method: C", "+      type: singles"],
        ),
    ],
)
def test_values_of_every_shape_change_in_place(
    tmp_path: Path, old: str, new: str, changes: dict[str, Any], diff: list[str]
) -> None:
    assert _diff(tmp_path, changes, spoilt(old, new)) == diff


def test_a_section_that_goes_takes_its_lines_along(tmp_path: Path) -> None:
    text = HOME.replace("{board: compare}", "{board: new}")
    board = text[text.index("existing_board:") : text.index("circuits:\n")]

    diff = _diff(tmp_path, {"existing_board": None}, text)

    assert diff == [f"-{row}" for row in board.splitlines()]


def test_a_file_whose_lines_cannot_be_changed_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = saved(tmp_path, HOME)
    job = _changed(read_job(path), {"supply.ze_ohm": 0.5})
    monkeypatch.setattr("boardwright.job.write.patched", lambda text, *_: text)

    with pytest.raises(FileError, match="cannot be changed in place"):
        save_job(job, path)
    assert path.read_text() == HOME


def test_a_job_of_braces_stays_one(tmp_path: Path) -> None:
    """YAML 1.2.2, section 1.3: every JSON file is YAML."""
    text = parse_job(HOME, "x").model_dump_json(exclude_none=True)
    path = saved(tmp_path, text)
    job = _changed(read_job(path), {"supply.ze_ohm": None, "title": "B", "circuits.1.way": 5})

    save_job(job, path)

    assert read_job(path) == job
    assert path.read_text().startswith("{")


def test_a_new_file_says_what_was_given_and_how_to_read_it(tmp_path: Path) -> None:
    path = tmp_path / "new.yaml"
    job = parse_job(HOME, "x")

    save_job(job, path)

    text = path.read_text()
    assert read_job(path) == job
    assert text.startswith("schema_version: 1\nid: home\n")
    assert "edition: bs7671_2018_a4\n" in text
    assert "ipf_a" not in text
    assert path.stat().st_mode & 0o777 == 0o644


def test_a_file_that_holds_something_else_is_not_overwritten(tmp_path: Path) -> None:
    for text in ("shopping: [milk]\n", "no yaml: [\n", "- a\n"):
        path = saved(tmp_path, text)

        with pytest.raises(BoardwrightError):
            save_job(parse_job(HOME, "x"), path)

        assert path.read_text() == text


@pytest.mark.parametrize("call", ["os.fsync", "pathlib.Path.replace"])
def test_a_failure_leaves_the_old_file_and_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    path = saved(tmp_path, HOME)
    job = _changed(read_job(path), {"supply.ze_ohm": 0.5})

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(call, full)

    with pytest.raises(FileError, match=r"No space left on device\. Nothing was changed\."):
        save_job(job, path)
    assert path.read_text() == HOME
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="cannot be written"):
        save_job(parse_job(HOME, "x"), tmp_path / "no" / "home.yaml")


def test_rights_and_links_outlive_a_save(tmp_path: Path) -> None:
    path = saved(tmp_path, HOME)
    path.chmod(0o640)
    link = tmp_path / "link.yaml"
    link.symlink_to(path)

    save_job(_changed(read_job(link), {"supply.ze_ohm": 0.5}), link)

    assert link.is_symlink()
    assert path.stat().st_mode & 0o777 == 0o640
    assert read_job(path).supply.ze_ohm == 0.5


def test_the_starter_is_a_job() -> None:
    job = parse_job(starter(), "starter.yaml")

    assert job.designed_on > date(2026, 1, 1)
    assert job.supply.ze_ohm is None


def test_the_starter_shows_every_field_and_what_is_switched_off_works_too() -> None:
    on = re.sub(r"^( *)#(?! \S|$)", r"\1", starter(), flags=re.MULTILINE)
    job = parse_job(on.replace("_with: landing", "_with: ev"), "starter.yaml")
    schema = job_schema()
    fields = {key for part in (schema, *schema["$defs"].values()) for key in part["properties"]}

    assert job.supply.submain is not None
    assert job.circuit("pv").source is not None
    assert [key for key in sorted(fields) if not re.search(rf"\b{key}:", on)] == []
    bare = [line for line in on.splitlines() if re.search(r": *$", line) and "_" in line]
    assert [line for line in bare if not line.strip().startswith(("existing_", "surge_"))] == []


def test_a_filled_in_starter_keeps_its_explanations(tmp_path: Path) -> None:
    changes = {"supply.ze_ohm": 0.2, "circuits.0.cable.method": "C", "supply.tails.csa_mm2": 25}
    diff = _diff(tmp_path, changes, starter())

    assert len(diff) == 6
    assert all("#" in line for line in diff)
