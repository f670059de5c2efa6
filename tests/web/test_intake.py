"""How much a request may bring and of what kind; what hostile bodies bring about."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from pathlib import Path

import httpx
import pytest

from boardwright.web.app import create_app
from boardwright.web.door.intake import LONGEST_PATH, MOST_BYTES
from boardwright.web.homes.jobs import Jobs
from tests.web.client import HERE, Client
from tests.web.conftest import homes_of

CHANGES = "/api/jobs/semi/changes"
JSON = {"origin": HERE, "content-type": "application/json"}


def edit(path: object = "supply.ze_ohm", value: object = "0.3") -> dict[str, object]:
    return {"base": 1, "edits": [{"path": path, "value": value}]}


def test_a_body_that_says_it_is_too_long_is_not_read(client: Client) -> None:
    refused = client.send("POST", CHANGES, b"x", {**JSON, "content-length": str(MOST_BYTES + 1)})

    assert refused.status_code == 413
    assert refused.json()["error"] == "That is too much at once: expected at most 4 MB."


def test_a_body_that_goes_on_and_on_is_cut_off(jobs: Jobs) -> None:
    sent = 0

    async def endless() -> AsyncIterator[bytes]:
        nonlocal sent
        for _ in range(100):
            sent += 1_000_000
            yield b" " * 1_000_000

    async def ask() -> httpx.Response:
        transport = httpx.ASGITransport(create_app(jobs))
        async with httpx.AsyncClient(transport=transport, base_url=HERE) as client:
            return await client.post(CHANGES, content=endless(), headers=JSON)

    assert asyncio.run(ask()).status_code == 413
    assert sent <= MOST_BYTES + 2_000_000


def test_who_only_holds_on_is_told_to_send_again(
    jobs: Jobs, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("boardwright.web.door.intake.PATIENCE_S", 0.05)

    async def slow() -> AsyncIterator[bytes]:
        yield b"{"
        await asyncio.sleep(5)

    async def ask() -> httpx.Response:
        transport = httpx.ASGITransport(create_app(jobs))
        async with httpx.AsyncClient(transport=transport, base_url=HERE) as client:
            return await client.post(CHANGES, content=slow(), headers=JSON)

    answered = asyncio.run(ask())

    assert (answered.status_code, answered.headers["connection"]) == (408, "close")


@pytest.mark.parametrize("kind", ["text/plain", "multipart/form-data", "", "application/xml"])
def test_json_is_taken_as_json_only(kind: str, client: Client) -> None:
    headers = {"origin": HERE, **({"content-type": kind} if kind else {})}

    assert client.send("POST", CHANGES, b"{}", headers).status_code == 415


@pytest.mark.parametrize("kind", ["application/json", "text/plain"])
def test_a_form_is_taken_as_a_form_only(kind: str, client: Client) -> None:
    headers = {"origin": HERE, "content-type": kind}

    assert client.send("POST", "/look", b"look=dark", headers).status_code == 415


@pytest.mark.parametrize("length", ["-1", "x", "1e3", "9" * 400])
def test_a_length_that_is_none_is_refused(length: str, client: Client) -> None:
    answered = client.send("POST", CHANGES, b"{}", {**JSON, "content-length": length})

    assert answered.status_code == 413


def test_an_address_too_long_is_refused(client: Client) -> None:
    assert client.get(f"/?find={'x' * LONGEST_PATH}").status_code == 414


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"null",
        b"[]",
        b'"text"',
        b"NaN",
        b"\xff\xfe",
        b"[" * 100_000 + b"]" * 100_000,
        b'{"base": 1, "edits": [{"path": "a", "value": ' + b"[" * 2000 + b"]" * 2000 + b"}]}",
        b'{"base": 1e400, "edits": []}',
        b'{"base": 1, "edits": [{"path": "supply.ze_ohm", "value": NaN}]}',
        b'{"base": 1, "edits": [{"path": "title", "value": "\\ud800"}]}',
        b'{"base": 1, "edits": [{"path": "title", "value": "a\\u0000b"}]}',
        b'{"base": 1, "edits": [{"path": "\\u0000", "value": 1}]}',
        b'{"base": 1, "edits": [{"path": "..", "value": 1}]}',
        b'{"base": 1, "edits": [{"path": "id", "value": "../../etc/passwd"}]}',
        b'{"base": 1, "edits": [{"path": "__class__.x", "value": 1}]}',
        b'{"base": 1, "edits": [{"path": "supply", "value": 9}]}',
        b'{"base": 1, "edits": [{"path": "circuits", "value": {"a": 1}}]}',
        b'{"base": 1, "why": "\\n\\u202e", "edits": [{"path": "supply.phases", "value": 2}]}',
        b'{"base": 999999999, "edits": [{"path": "supply.ze_ohm", "value": 1}]}',
        b'{"base": 1, "edits": [{"path": "supply.ze_ohm", "value": ' + b"9" * 5000 + b"}]}",
        b'{"base": 1, "edits": [{"path": "assumed", "value": 1}]}',
        b'{"base": 1, "edits": [{"path": "edition", "value": "of next year"}]}',
        b'{"base": 1, "edits": [{"path": "assumed", "value": [[]], "assumed": true}]}',
        b'{"base": 1, "edits": [{"path": "circuits.\\ud800.name", "value": "x"}]}',
    ],
)
def test_a_hostile_change_is_told_and_changes_nothing(body: bytes, folder: Path) -> None:
    jobs = homes_of(folder)
    client = Client(create_app(jobs))
    before = jobs.version("semi")

    answered = client.send("POST", CHANGES, body, JSON)

    assert answered.status_code in {400, 404, 422}, answered.text
    assert "Traceback" not in answered.text
    assert set(answered.json()) == {"error", "details"}
    assert jobs.version("semi") == before


@pytest.mark.parametrize(
    "told",
    [
        {"value": "\ud800"},
        {"value": {"\udfff": 1}},
        {"at": "0001-01-01T00:00:00+14:00"},
        {"at": "9999-12-31T23:59:59-14:00"},
        {"at": "2026-11-25T10:00:00"},
        {"kind": "issued", "subject": "pack", "value": {"version": "x"}},
        {"kind": "photo", "value": {"sha256": "0"}},
        {"kind": "file"},
    ],
)
def test_a_hostile_event_is_told_and_the_others_are_still_handed_out(
    told: dict[str, object], folder: Path
) -> None:
    client = Client(create_app(homes_of(folder)))
    event = {"id": "a", "kind": "reading", "subject": "origin.ze_ohm", "value": 1, "device": "d"}
    body = json.dumps({"events": [{**event, "at": "2026-11-25T10:00:00Z", **told}]}).encode()

    answered = client.send("POST", "/api/jobs/semi/events", body, JSON)

    assert answered.status_code == 422, answered.text
    assert set(answered.json()) == {"error", "details"}
    kept = client.get("/api/jobs/semi/events").json()["events"]
    assert [each["kind"] for each in kept] == ["file"]


@pytest.mark.parametrize("base", [b"", b"9" * 5000, b"-1", b"1e400", b"%D9%A3", b"%00"])
def test_a_form_with_no_version_is_told(base: bytes, client: Client) -> None:
    for path in ("/jobs/semi/survey/supply", "/jobs/semi/design/circuits"):
        kind = {"origin": HERE, "content-type": "application/x-www-form-urlencoded"}

        answered = client.send("POST", path, b"name=x&base=" + base, kind)

        # Other figures than ours are figures too: 3 is no version here.
        assert answered.status_code in {404, 422}, answered.text


def test_what_was_found_is_told_in_short(client: Client) -> None:
    answered = client.send("POST", CHANGES, b'{"base": "' + b"x" * 100_000 + b'"}', JSON)

    assert answered.status_code == 422
    assert len(answered.content) < 1000


@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "TRACE", "PROPFIND"])
def test_a_method_that_a_route_does_not_know_is_refused(method: str, client: Client) -> None:
    assert client.send(method, "/api/jobs", {}).status_code == 405


@pytest.mark.parametrize("packed", ["/", "/static/page.css", "/api/jobs"])
def test_text_is_sent_compressed_to_who_takes_it(packed: str, client: Client) -> None:
    assert client.get(packed, {"accept-encoding": "gzip"}).headers["content-encoding"] == "gzip"
    assert "content-encoding" not in client.get(packed, {"accept-encoding": "identity"}).headers


def test_what_is_compressed_already_is_sent_as_it_is(client: Client) -> None:
    answered = client.get("/static/plex.woff2", {"accept-encoding": "gzip"})

    assert "content-encoding" not in answered.headers


def test_a_browser_that_has_a_file_is_not_sent_it_again(client: Client) -> None:
    for path in ("/static/page.css", "/static/cards.js"):
        first = client.get(path)
        again = client.get(path, {"if-none-match": first.headers["etag"]})
        other = client.get(path, {"if-none-match": '"other"'})

        assert (again.status_code, again.content) == (304, b"")
        assert other.content == first.content


def test_half_a_request_is_not_kept(folder: Path) -> None:
    jobs = homes_of(folder)
    app = create_app(jobs)
    body = b'{"base": 1, "edits": [{"path": "supply.ze_ohm", "value": "0.3"}]}'
    messages: list[dict[str, object]] = [
        {"type": "http.request", "body": body, "more_body": True},
        {"type": "http.disconnect"},
    ]

    async def receive() -> dict[str, object]:
        return messages.pop(0)

    async def send(_: object) -> None:
        return

    headers = [(b"host", b"127.0.0.1"), (b"origin", HERE.encode())]
    headers += [(b"content-type", b"application/json"), (b"transfer-encoding", b"chunked")]
    scope = {
        "type": "http",
        "asgi": {"version": "3.0"},
        "method": "POST",
        "path": CHANGES,
        "raw_path": CHANGES.encode(),
        "root_path": "",
        "scheme": "http",
        "query_string": b"",
        "headers": headers,
        "client": ("127.0.0.1", 1),
        "server": ("127.0.0.1", 80),
    }

    asyncio.run(app(scope, receive, send))

    assert len(jobs.store.history("semi")) == 1
    assert messages == []
