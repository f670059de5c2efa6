"""The surge command: a network given as data, a job's home, the netlist, and slips."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from boardwright.cli import app
from boardwright.core.errors import BoardwrightError
from boardwright.documents.surge.home_network import home_network
from boardwright.surge.network import read_network
from tests.surge.rig import BUS, generator, net, spd

ROOT = Path(__file__).parents[2]


def _run(*words: str | Path) -> str:
    done = CliRunner().invoke(app, ["surge", *map(str, words)], catch_exceptions=False)
    assert done.exit_code == 0
    return done.stdout


@pytest.fixture
def network(tmp_path: Path) -> Path:
    path = tmp_path / "network.json"
    path.write_text(net(generator(), *spd()).to_json())
    return path


def test_a_network_given_as_data_is_solved(network: Path) -> None:
    data = json.loads(_run("--network", network, "--json", "--end-s", "6e-5"))

    # Combination wave A of 6 kV into the 40 mm block behind 0.5 µH: beside the published
    # rows of tests/published/test_varistor_tables.py.
    assert data["outcome"] == "solved"
    assert data["nodes"][str(BUS)]["peak_v"] == pytest.approx(920, abs=15)
    assert len(data["t_s"]) == len(data["nodes"][str(BUS)]["u_v"])
    assert data["ports"]["SPD"]["peak_a"] == pytest.approx(2540, rel=0.02)
    assert abs(data["energy"]["gap_ratio"]) < 5e-5


def test_the_words_give_peaks_and_outcome(network: Path) -> None:
    text = _run("--network", network)

    assert text.startswith("The study reached its end time.")
    assert "bus:L" in text
    assert "for this assumed surge only" in text


def test_the_netlist_is_written_beside(network: Path, tmp_path: Path) -> None:
    circuit = tmp_path / "surge.cir"
    _run("--network", network, "--spice", circuit)

    assert circuit.read_text().startswith("* surge network")
    assert ".tran 4e-09 0.0001 0 4e-09 uic" in circuit.read_text()


def test_a_home_gives_the_same_network_from_design_and_from_memory(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    job = ROOT / "examples" / "semi.yaml"
    designed = home_network(job)

    assert len(list((tmp_path / "boardwright" / "networks").iterdir())) == 1
    assert home_network(job) == designed
    assert {e.kind for e in read_network(designed).elements} >= {"line", "varistor", "generator"}


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ([], "either a job file or --network"),
        (["job.yaml", "--network", "n.json"], "either a job file or --network"),
        (["--network", "missing.json"], "cannot be read"),
    ],
)
def test_a_slip_is_told_in_one_sentence(words: list[str], sentence: str) -> None:
    with pytest.raises(BoardwrightError, match=sentence):
        CliRunner().invoke(app, ["surge", *words], catch_exceptions=False)
