"""The JSON of everything: the same figures as the papers, and an OpenAPI that describes it."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from boardwright.documents.record.design_file import build
from boardwright.standards.load import editions, load_edition
from boardwright.web.homes.jobs import Jobs
from tests.habits.source import ROOT
from tests.web.client import Client

SIZE = {"size": "10", "length": 15}


def got(client: Client, path: str) -> dict[str, object]:
    answered = client.get(path)
    assert answered.status_code == 200, answered.text
    found = answered.json()
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize(
    ("path", "parts"),
    [
        ("findings", ["findings"]),
        ("circuits", ["circuits", "demand"]),
        ("board", ["arrangement", "conductors", "spd", "spare_modules"]),
        ("surge", ["surge_need", "surge_study", "spd"]),
        ("steps", ["steps"]),
    ],
)
def test_a_part_says_what_the_design_file_says(
    path: str, parts: list[str], client: Client, jobs: Jobs
) -> None:
    whole = json.loads(build(jobs.design("semi")))

    part = got(client, f"/api/jobs/semi/{path}")

    assert {name: part[name] for name in parts} == {name: whole[name] for name in parts}


def test_an_old_version_is_worked_out_too(client: Client) -> None:
    assert got(client, "/api/jobs/semi/steps?version=1")["steps"]
    assert client.get("/api/jobs/semi/steps?version=99").status_code == 404


def test_a_working_ends_in_the_circuits_figures(client: Client, jobs: Jobs) -> None:
    found = client.get("/api/jobs/semi/circuits/shower/working").json()
    circuit = next(c for c in jobs.design("semi").plan.circuits if c.id == "shower")

    said = {row["sign"]: row["value"] for row in found["working"]}

    assert said["Ib"].startswith(f"{circuit.ib_a:.3g}")
    assert found["shared"]
    told = client.get("/api/jobs/semi/circuits/none/working")
    assert told.status_code == 422
    assert "circuit: found 'none', expected one of" in told.json()["details"][0]


def test_what_if_tells_what_would_differ_and_saves_nothing(client: Client, jobs: Jobs) -> None:
    before = jobs.version("semi")
    asked = {"edits": [{"path": "supply.ze_ohm", "value": 0.9}]}

    answered = client.send("POST", "/api/jobs/semi/what-if", asked)

    found = answered.json()
    assert answered.status_code == 200, answered.text
    assert found["fields"] == [{"path": "supply.ze_ohm", "before": 0.21, "after": 0.9}]
    changed = {each["check"] for each in (*found["came"], *found["went"])}
    changed |= {each["after"]["check"] for each in found["moved"]}
    # TN-C-S: the supplier declares at most 0.35 ohm, so 0.9 is adverse whatever else is so.
    adverse = [*found["came"], *(each["after"] for each in found["moved"])]
    assert any(each["verdict"] in {"fail", "stop", "advise"} for each in adverse), changed
    assert jobs.version("semi") == before


def test_every_question_of_the_survey_is_a_field_of_the_job(client: Client, jobs: Jobs) -> None:
    screens = client.get("/api/jobs/semi/questions").json()["screens"]

    fields = [field for each in screens for group in each["groups"] for field in group["fields"]]
    assert len(screens) > len(jobs.load("semi").circuits)
    (ze,) = [field for field in fields if field["path"] == "supply.ze_ohm"]
    assert (ze["value"], ze["symbol"], ze["unit"]) == ("0.21", "Ze", "Ω")


def test_what_if_nothing_differs(client: Client) -> None:
    asked = {"edits": [{"path": "supply.ze_ohm", "value": 0.21}]}

    found = client.send("POST", "/api/jobs/semi/what-if", asked).json()

    assert (found["fields"], found["came"], found["went"], found["moved"]) == ([], [], [], [])
    assert found["before"] == found["after"]


def test_every_paper_is_listed_and_handed_out(client: Client) -> None:
    listed = client.get("/api/jobs/semi/papers").json()["papers"]
    assert {"design.json", "steps.txt", "board.svg"} <= {each["name"] for each in listed}

    for name in ("design.json", "steps.txt", "board.svg", "wiring.csv"):
        answered = client.get(f"/api/jobs/semi/papers/{name}")
        assert answered.status_code == 200, name
        assert answered.headers["content-disposition"] == f'attachment; filename="semi-{name}"'
        assert "sandbox" in answered.headers["content-security-policy"]
    assert client.get("/api/jobs/semi/papers/..%2fx").status_code == 404


def test_one_circuit_says_what_the_command_says(client: Client) -> None:
    arguments = ["shower", "--power", "9500", "--size", "10", "--length", "15", "--method", "C"]
    done = subprocess.run(
        [sys.executable, "-m", "boardwright", "circuit", *arguments, "--longest", "--json"],
        capture_output=True,
        check=True,
        cwd=ROOT,
        env={"PYTHONPATH": "src"},
    )
    asked = {"serves": "shower", "power": 9500, "size": "10", "length": 15, "method": "C"}

    answered = client.send("POST", "/api/circuit", {**asked, "longest": True})

    assert answered.json() == json.loads(done.stdout)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"serves": "nothing", **SIZE}, "SERVES"),
        ({"serves": "shower", "power": -1, **SIZE}, "--power"),
        ({"serves": "shower", "edition": "../x"}, "edition"),
        ({"serves": "shower", "power": "9" * 400, **SIZE}, "--power"),
    ],
)
def test_a_circuit_that_cannot_be_is_told(
    asked: dict[str, object], said: str, client: Client
) -> None:
    answered = client.send("POST", "/api/circuit", asked)

    assert answered.status_code == 422
    assert said in " ".join(answered.json()["details"])


def test_editions_are_listed_with_their_figures(client: Client) -> None:
    listed = got(client, "/api/editions")
    assert [each["name"] for each in listed["editions"]] == list(editions())  # type: ignore[attr-defined]

    for name in editions():
        found = client.get(f"/api/editions/{name}").json()["figures"]
        assert {each["key"] for each in found} == set(load_edition(name).entries)
        assert all(each["source"] and each["known"] for each in found)
        doubtful = client.get(f"/api/editions/{name}?doubtful=true").json()["figures"]
        assert all(each["known"] == "memory" or each["carried"] for each in doubtful)
    assert client.get("/api/editions/none").status_code == 422


def test_the_catalogue_is_whole(client: Client, jobs: Jobs) -> None:
    found = client.get("/api/catalogue").json()

    assert {each["id"] for each in found["devices"]} == set(jobs.catalogue.devices)
    assert {each["id"] for each in found["enclosures"]} == set(jobs.catalogue.enclosures)


@pytest.mark.parametrize("name", ["job", "design"])
def test_the_schemas_hold_what_they_describe(name: str, client: Client, jobs: Jobs) -> None:
    import jsonschema_rs

    schema = got(client, f"/api/schemas/{name}")
    instance = (
        client.get("/api/jobs/semi/design").json()
        if name == "design"
        else jobs.load("semi").model_dump(mode="json", exclude_none=True)
    )

    assert list(jsonschema_rs.validator_for(schema).iter_errors(instance)) == []
    assert client.get("/api/schemas/none").status_code == 422


def test_the_description_is_served_by_the_page_and_is_whole(client: Client) -> None:
    described = got(client, "/api/openapi.json")

    assert str(described["openapi"]).startswith("3.1")
    paths = described["paths"]
    assert isinstance(paths, dict)
    assert len(paths) > 25
    for path, methods in paths.items():
        assert path.startswith("/api/")
        for method, operation in methods.items():
            assert operation["summary"], (path, method)
            assert operation["description"], (path, method)
            assert operation["tags"], (path, method)


def test_no_server_elsewhere_is_needed_to_read_it(client: Client) -> None:
    assert client.get("/docs").status_code == 404
    assert client.get("/redoc").status_code == 404
