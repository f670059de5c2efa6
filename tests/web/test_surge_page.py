"""The surge page: curves by links, and choices that are worked out only when asked for."""

import time

import pytest

from tests.web.client import Client


def test_curves_open_with_a_wish_and_say_what_they_show(client: Client) -> None:
    plain, asked = (client.get(f"/jobs/semi/surge{query}").text for query in ("", "?time=log"))

    assert "<details>\n<summary>Curves" in plain
    assert "<details open>\n<summary>Curves" in asked
    assert 'aria-label="Router and broadband box: highest' in asked
    assert "log time." in asked


def test_another_place_can_be_chosen_and_a_wrong_one_is_named(client: Client) -> None:
    chosen = client.get("/jobs/semi/surge?place=Kitchen+sockets").text
    wrong = client.get("/jobs/semi/surge?place=attic")

    assert "Fridge-freezer: highest" in chosen
    assert wrong.status_code == 422
    assert "place: found" in wrong.text
    assert client.get("/jobs/semi/surge?time=week").status_code == 422


@pytest.mark.slow
def test_choices_are_worked_out_once_asked_for(client: Client) -> None:
    path = "/jobs/three-phase/surge/choices"
    before = client.get(path).text
    begun = client.post(path, {})

    assert client.get(f"{path}.txt").status_code == 404
    assert "Work it out" in before
    assert begun.status_code == 303
    for _ in range(600):
        answer = client.get(path)
        if "refresh" not in answer.headers:
            break
        assert "The page looks again by itself" in answer.text
        time.sleep(0.2)
    assert "As designed, every place on L2" in answer.text
    assert "What was drawn" in answer.text
    assert "Leads as routed" in answer.text
    assert f'href="{path}.txt"' in answer.text
    assert "what would change the surge" in client.get(f"{path}.txt").text
