"""Every route of the API against what nobody meant: schemathesis draws requests and judges answers.

No 5xx, no status or body that the description does not have. The requests go the whole way, through
guard, gate and intake.
"""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
import uvicorn
from fastapi import FastAPI
from hypothesis import HealthCheck, given, settings
from schemathesis import BaseSchema, GenerationMode
from schemathesis.specs.openapi.checks import negative_data_rejection, positive_data_acceptance

from boardwright.web import api
from boardwright.web.app import create_app
from tests.web.conftest import HOMES, homes_of

pytestmark = pytest.mark.slow

COSTLY = ("what-if", "/running")
"""Each example of these is a design of its own."""
ORDINARY_EXAMPLES, COSTLY_EXAMPLES = 25, 4

TOO_MUCH = {413, 414}
ANY_REFUSAL = negative_data_rejection
# A text fits its schema and is no job, or there is no circuit of that name: 422 is right then.
NO_SCHEMA_CAN_SAY = positive_data_acceptance


def operations() -> list[tuple[str, str]]:
    app = FastAPI()
    app.include_router(api.router)
    return [
        (path, method.upper()) for path, own in app.openapi()["paths"].items() for method in own
    ]


@pytest.fixture(scope="module")
def described(tmp_path_factory: pytest.TempPathFactory) -> Iterator[BaseSchema]:
    folder = tmp_path_factory.mktemp("fuzz") / "homes"
    folder.mkdir()
    shutil.copy(HOMES / "semi.yaml", folder)
    config = uvicorn.Config(create_app(homes_of(folder)), port=0, log_level="critical")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        thread.join(0.05)
    here = f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    schema = schemathesis.openapi.from_url(f"{here}/api/openapi.json")
    for path in schema.raw_schema["paths"].values():
        for operation in path.values():
            for parameter in operation.get("parameters", ()):
                if parameter["name"] == "job_id":
                    # A home that is there, more often than chance would find it.
                    parameter["schema"] = {"anyOf": [{"const": "semi"}, {"type": "string"}]}
    yield schema
    server.should_exit = True
    thread.join(10)


@pytest.mark.parametrize("mode", GenerationMode)
@pytest.mark.parametrize(("path", "method"), operations())
def test_every_route_answers_as_it_is_described(
    path: str, method: str, mode: GenerationMode, described: BaseSchema
) -> None:
    operation = described[path][method]
    if mode is GenerationMode.NEGATIVE and not (operation.query or operation.body):
        pytest.skip("nothing that is asked here could break its description")
    origin = str(operation.base_url).removesuffix("/")
    examples = COSTLY_EXAMPLES if path.endswith(COSTLY) else ORDINARY_EXAMPLES

    @given(case=operation.as_strategy(generation_mode=mode))
    @settings(
        max_examples=examples,
        deadline=None,
        database=None,
        derandomize=True,
        suppress_health_check=list(HealthCheck),
    )
    def ask(case: schemathesis.Case[Any]) -> None:
        answer = case.call(headers={"origin": origin})
        assert answer.status_code < 500
        beyond: list[Any] = [
            NO_SCHEMA_CAN_SAY,
            *([ANY_REFUSAL] if answer.status_code in TOO_MUCH else []),
        ]
        case.validate_response(answer, headers={"origin": origin}, excluded_checks=beyond)

    ask()
