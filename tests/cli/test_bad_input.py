"""Whatever is typed or read: one clear sentence, exit code 2, nothing overwritten."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from boardwright.cli import main

SEMI = (Path(__file__).parents[2] / "examples" / "semi.yaml").read_text(encoding="utf-8")
SMALL = """\
schema_version: 1
id: shed
title: Shed
designed_on: 2026-11-25
premises: {kind: outbuilding}
supply: {system: TN-C-S}
earthing: {}
surge_environment: {setting: rural}
circuits:
  - id: sockets
    name: Sockets
    serves: sockets
    cable: {line_mm2: 2.5, cpc_mm2: 1.5, length_m: 8, method: C}
"""


@dataclass(frozen=True, slots=True)
class Run:
    """What a command left: its exit code and both its streams."""

    code: int
    out: str
    err: str


Command = Callable[..., Run]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    def command(*words: str | Path) -> Run:
        monkeypatch.setattr(sys, "argv", ["boardwright", *map(str, words)])
        with pytest.raises(SystemExit) as ended:
            main()
        code = ended.value.code
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        return Run(code if isinstance(code, int) else 0, out, err)

    return command


def _changed(old: str, new: str, text: str = SEMI) -> str:
    assert old in text
    return text.replace(old, new, 1)


BAD = {
    "unknown key": (_changed("ipf_a: 1250", "ipf_ka: 1.25"), ("supply.ipf_ka", "line 25")),
    "decimal comma": (_changed("ze_ohm: 0.21", "ze_ohm: 0,35"), ("supply.ze_ohm", "0,35", "0.35")),
    "unit in the value": (_changed("length_m: 1.4", "length_m: 1.4 m"), ("supply.tails.length_m",)),
    "missing section": (_changed("earthing:\n", "earthing_as_found:\n"), ("earthing",)),
    "a way that is not there": (_changed("way: 8\n", "way: 9\n"), ("lights-up.way", "1 to 8")),
    "300 ways": (_changed("ways: 8\n", "ways: 300\n"), ("existing_board.ways", "60")),
    "negative length": (_changed("length_m: 15", "length_m: -15"), ("length_m", "-15")),
    "not a number": (_changed("ze_ohm: 0.21", "ze_ohm: .nan"), ("supply.ze_ohm", ".nan")),
    "infinite": (_changed("ze_ohm: 0.21", "ze_ohm: 1e999"), ("supply.ze_ohm",)),
    "huge whole number": (_changed("ipf_a: 1250", "ipf_a: " + "9" * 400), ("supply.ipf_a",)),
    "yes for a number": (_changed("ze_ohm: 0.21", "ze_ohm: yes"), ("supply.ze_ohm",)),
    "a list for a section": (_changed("earthing:\n", "earthing: [1]\nx:\n"), ("earthing",)),
    "key twice": (_changed("id: semi\n", "id: semi\nid: semi\n"), ("line",)),
    "circuit id twice": (_changed("id: cooker", "id: shower"), ("shower",)),
    "anchor": (_changed("id: semi", "id: &a semi"), ("anchor",)),
    "bomb": (
        "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a]\nc: [*b,*b,*b,*b]\n",
        ("anchor", "line 1"),
    ),
    "tag": (_changed("id: semi", "id: !!python/object/apply:os.system [true]"), ("tag", "line")),
    "deep": ("a: " + "[" * 5000, ("line 1",)),
    "tabs": ("supply:\n\tze_ohm: 1\n", ("line 2",)),
    "empty": ("", ("empty",)),
    "only a comment": ("# nothing yet\n", ("empty",)),
    "a sentence": ("Ze was fine.\n", ("expected",)),
    "unknown edition": (_changed("bs7671_2018_a4", "bs7671_2099"), ("edition", "bs7671_2018_a4")),
    "unknown device": (_changed("spare_ways: 2", "spd: no-such"), ("wishes.spd", "no-such")),
    "unknown appliance": (
        _changed("kind: television", "kind: telly"),
        ("television.kind", "telly"),
    ),
    "device that is no SPD": (_changed("spare_ways: 2", "spd: ravel-ms-100"), ("wishes.spd",)),
    "box as a board": (
        _changed("spare_ways: 2", "enclosure: ostrey-box-4"),
        ("wishes.enclosure", "ostrey-box-4"),
    ),
    "method that no table has": (
        _changed("method: C, condition", "method: D, condition"),
        ("method",),
    ),
}


@pytest.mark.parametrize(("text", "words"), BAD.values(), ids=BAD.keys())
def test_a_bad_job_is_told_in_a_sentence(
    run: Command, tmp_path: Path, text: str, words: tuple[str, ...]
) -> None:
    file = tmp_path / "home.yaml"
    file.write_text(text, encoding="utf-8")

    ended = run("plan", file, "--out", tmp_path / "out")

    assert ended.code == 2
    assert ended.out == ""
    assert "home.yaml" in ended.err
    assert all(word in ended.err for word in words), ended.err
    assert all(len(line) < 600 for line in ended.err.splitlines())
    assert not (tmp_path / "out").exists()


FIELD_OF_A_LATER_STAGE = (
    "unknown edition", "unknown device", "unknown appliance", "device that is no SPD",
    "box as a board", "method that no table has",
)  # fmt: skip


@pytest.mark.parametrize("case", FIELD_OF_A_LATER_STAGE)
def test_a_field_that_a_later_stage_refuses_has_its_line_too(
    run: Command, tmp_path: Path, case: str
) -> None:
    file = tmp_path / "home.yaml"
    file.write_text(BAD[case][0], encoding="utf-8")

    ended = run("plan", file)
    line = int(ended.err.partition("line ")[2].partition(":")[0])

    assert BAD[case][1][0].rpartition(".")[2] in BAD[case][0].splitlines()[line - 1]


def test_files_that_are_no_job(run: Command, tmp_path: Path) -> None:
    large, binary = tmp_path / "large.yaml", tmp_path / "binary.yaml"
    large.write_bytes(b"# x\n" * 2_500_000)
    binary.write_bytes(bytes(range(256)) * 10)

    for file in (large, binary, tmp_path, tmp_path / "none.yaml"):
        ended = run("plan", file)

        assert ended.code == 2
        assert file.name in ended.err
        assert len(ended.err.splitlines()) == 1


def test_a_file_that_may_not_be_read(run: Command, tmp_path: Path) -> None:
    file = tmp_path / "home.yaml"
    file.write_text(SMALL, encoding="utf-8")
    file.chmod(0)
    if os.access(file, os.R_OK):
        pytest.skip("root reads everything")

    assert run("plan", file).code == 2


BAD_CATALOGUE = {
    "not toml": ("devices = [", "mine.toml"),
    "unknown key": ('[[device]]\nid = "x"\nwidth = 3\n', "mine.toml"),
    "missing keys": ('[[device]]\nid = "my-breaker"\n', "my-breaker"),
}


@pytest.mark.parametrize(("text", "word"), BAD_CATALOGUE.values(), ids=BAD_CATALOGUE.keys())
def test_a_bad_catalogue_entry_is_named(run: Command, tmp_path: Path, text: str, word: str) -> None:
    folder = tmp_path / "own"
    folder.mkdir()
    (folder / "mine.toml").write_text(text, encoding="utf-8")
    job = tmp_path / "shed.yaml"
    job.write_text(SMALL, encoding="utf-8")

    ended = run("plan", job, "--catalogue", folder)

    assert ended.code == 2
    assert "mine.toml" in ended.err
    assert word in ended.err


@pytest.mark.parametrize(
    "text", ["not toml [", '[entries]\n"no.such.key" = { value = 1 }\n', "x = 1\n", "\x00"]
)
def test_a_bad_file_of_own_figures_is_told(run: Command, tmp_path: Path, text: str) -> None:
    own, job = tmp_path / "own.toml", tmp_path / "shed.yaml"
    own.write_text(text, encoding="utf-8")
    job.write_text(SMALL, encoding="utf-8")

    ended = run("plan", job, "--own-figures", own)

    assert ended.code == 2
    assert "own.toml" in ended.err


@pytest.mark.parametrize("option", ["--catalogue", "--own-figures"])
def test_a_place_that_is_not_there_is_told(run: Command, tmp_path: Path, option: str) -> None:
    job = tmp_path / "shed.yaml"
    job.write_text(SMALL, encoding="utf-8")

    ended = run("plan", job, option, tmp_path / "nowhere")

    assert ended.code == 2
    assert "nowhere" in ended.err


def test_out_onto_a_file_leaves_it(run: Command, tmp_path: Path) -> None:
    job, mine = tmp_path / "shed.yaml", tmp_path / "mine"
    job.write_text(SMALL, encoding="utf-8")
    mine.write_text("my own", encoding="utf-8")

    ended = run("plan", job, "--out", mine)

    assert ended.code == 2
    assert "mine" in ended.err
    assert mine.read_text(encoding="utf-8") == "my own"


def test_out_into_a_place_that_cannot_be_written(run: Command, tmp_path: Path) -> None:
    job = tmp_path / "shed.yaml"
    job.write_text(SMALL, encoding="utf-8")

    ended = run("plan", job, "--out", "/proc/here")

    assert ended.code == 2
    assert "cannot be written" in ended.err


def test_a_persons_own_file_is_kept_and_the_paper_stands_beside(tmp_path: Path) -> None:
    job, out = tmp_path / "shed.yaml", tmp_path / "out"
    job.write_text(SMALL, encoding="utf-8")
    first = _program("plan", job, "--out", out)
    (out / "shed" / "findings.txt").write_text("my notes", encoding="utf-8")

    again = _program("plan", job, "--out", out)

    assert (first.code, again.code) == (0, 0)
    assert (out / "shed" / "findings.txt").read_text(encoding="utf-8") == "my notes"
    assert (out / "shed" / "findings-2.txt").exists()
    assert "findings-2.txt" in again.out
    assert not (out / "shed" / "steps-2.txt").exists()


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("subject,value\ncircuits.sockets.zs_ohm,high\n", "readings, line 2"),
        ("place,value\n", "names subject"),
        (None, "cannot be read"),
    ],
)
def test_a_table_of_readings_that_cannot_be_used(
    run: Command, tmp_path: Path, table: str | None, said: str
) -> None:
    job, readings = tmp_path / "shed.yaml", tmp_path / "readings.csv"
    job.write_text(SMALL, encoding="utf-8")
    if table is not None:
        readings.write_text(table, encoding="utf-8")

    ended = run("plan", job, "--out", tmp_path / "out", "--readings", readings)

    assert ended.code == 2
    assert said in " ".join(ended.err.split())
    assert not (tmp_path / "out").exists()


def test_readings_ask_for_a_folder(run: Command, tmp_path: Path) -> None:
    job = tmp_path / "shed.yaml"
    job.write_text(SMALL, encoding="utf-8")

    ended = run("plan", job, "--readings", tmp_path / "readings.csv")

    assert ended.code == 2
    assert "--out" in ended.err


def test_new_keeps_a_file_that_is_there(run: Command, tmp_path: Path) -> None:
    mine = tmp_path / "home.yaml"
    mine.write_text("my own", encoding="utf-8")

    ended = run("new", mine)

    assert ended.code == 2
    assert mine.read_text(encoding="utf-8") == "my own"


def test_new_into_no_folder_is_told(run: Command, tmp_path: Path) -> None:
    assert run("new", tmp_path / "none" / "home.yaml").code == 2


def test_an_unknown_paper_is_told_with_those_there_are(run: Command, tmp_path: Path) -> None:
    job = tmp_path / "shed.yaml"
    job.write_text(SMALL, encoding="utf-8")

    ended = run("show", job, "no-such")

    assert ended.code == 2
    assert "findings" in ended.err


@pytest.mark.parametrize(
    "words", [("plan",), ("plann", "x"), ("plan", "x", "--no"), ("schema", "y")]
)
def test_a_slip_on_the_command_line_is_told(run: Command, words: tuple[str, ...]) -> None:
    ended = run(*words)

    assert ended.code == 2
    assert ended.out == ""


def test_json_is_all_there_is_on_standard_output(tmp_path: Path) -> None:
    job = tmp_path / "shed.yaml"
    job.write_text(SMALL, encoding="utf-8")

    ended = _program("plan", job, "--json")

    assert ended.code == 0
    assert json.loads(ended.out)["job"] == "shed"


def test_a_finding_that_forbids_the_work_ends_with_one(tmp_path: Path) -> None:
    refused = "earthing: {means_present: no, owner_refuses_upgrade: yes}"
    job = tmp_path / "shed.yaml"
    job.write_text(_changed("earthing: {}", refused, SMALL), encoding="utf-8")

    ended = _program("plan", job)

    assert ended.code == 1
    assert "must not go ahead" in ended.out


def _program(*words: str | Path) -> Run:
    """Run the program as a process of its own: what its libraries print is seen too."""
    done = subprocess.run(
        [sys.executable, "-m", "boardwright", *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert "Traceback" not in done.stderr
    return Run(done.returncode, done.stdout, done.stderr)
