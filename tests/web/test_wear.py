"""The surge page tells of back-up and wear in the words of the paper."""

import shutil
from pathlib import Path

from boardwright.documents.duty.words import duty_words
from boardwright.web.app import create_app
from boardwright.web.homes.jobs import Jobs
from tests.web.client import Client, words
from tests.web.conftest import HOMES, homes_of


def test_the_page_says_what_the_paper_says(client: Client, jobs: Jobs) -> None:
    said = duty_words(jobs.design("semi"))
    read = words(client.get("/jobs/semi/surge").text)

    assert said is not None
    assert said.life.replace("\u00a0", " ") in read
    assert said.failure.replace("\u00a0", " ") in read
    assert [row for row in said.ahead if row.surge.replace("\u00a0", " ") not in read] == []
    assert [often for _, often in said.often if often not in read] == []


def test_a_decline_stands_on_the_page_with_the_same_rates(tmp_path: Path) -> None:
    folder = tmp_path / "homes"
    folder.mkdir()
    shutil.copy(HOMES / "semi.yaml", folder)
    path = folder / "semi.yaml"
    text = path.read_text(encoding="utf-8")
    answered = "  large_loss_possible: no\n"
    path.write_text(text.replace(answered, f"{answered}  declined_by: owner\n"), encoding="utf-8")
    jobs = homes_of(folder)

    read = words(Client(create_app(jobs)).get("/jobs/semi/surge").text)

    assert "The owner declined in writing" in read
    assert "What its surges pass through" not in read
    assert "1 kA or more" in read
