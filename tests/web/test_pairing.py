"""Devices of the local network: the code, the session, what each may do, what nobody may."""

from __future__ import annotations

import re
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from boardwright.core.errors import FieldError, FileError
from boardwright.web.app import create_app
from boardwright.web.devices.access import Access, Network
from boardwright.web.devices.pairing import LIVES, TRIES, TRIES_OF_ONE, WINDOW, Outcome, Pairing
from boardwright.web.devices.sessions import KEPT_FOR, MOST_DEVICES, Devices
from boardwright.web.homes.jobs import Jobs
from tests.web.client import Client, words

ADDRESS = "192.168.1.20"
PHONE = f"https://{ADDRESS}:8047"
PLAIN = f"http://{ADDRESS}:8047"
START = datetime(2026, 11, 25, 9, tzinfo=UTC)


class Clock:
    """A clock that is moved by hand."""

    def __init__(self) -> None:
        self.at = START

    def __call__(self) -> datetime:
        return self.at


@pytest.fixture
def access() -> Access:
    network = Network(frozenset({"192.168.1.20", "desk.local"}), PHONE, tls=True)
    return Access(network)


@pytest.fixture
def phone(jobs: Jobs, access: Access) -> Client:
    return Client(create_app(jobs, access), PHONE)


def pair(phone: Client, access: Access, name: str = "Ann, phone") -> None:
    code = access.pairing.new_code().signs
    assert phone.post("/pair", {"code": code, "name": name}).status_code == 303


@pytest.mark.parametrize("path", ["/", "/jobs/semi/survey", "/devices", "/nowhere"])
def test_a_strange_device_sees_no_page(path: str, phone: Client) -> None:
    answered = phone.get(path)

    assert (answered.status_code, answered.headers["location"]) == (303, "/pair")


def test_a_strange_device_gets_no_data_and_changes_nothing(phone: Client) -> None:
    assert phone.get("/api/jobs/semi").status_code == 401
    assert phone.get("/api/openapi.json").status_code == 401
    assert phone.post("/look", {"look": "dark"}).status_code == 401
    assert phone.post("/devices/code", {}).status_code == 401


def test_the_code_lets_one_device_in(phone: Client, access: Access, jobs: Jobs) -> None:
    code = access.pairing.new_code()

    asked = phone.get(f"/pair?code={code.signs}")
    paired = phone.post("/pair", {"code": code.shown.lower(), "name": "Ann, phone"})
    second = Client(create_app(jobs, access), PHONE).post(
        "/pair", {"code": code.signs, "name": "Eve"}
    )

    assert code.signs in asked.text
    cookie = paired.headers["set-cookie"]
    assert cookie.startswith("__Host-session=")
    for part in ("HttpOnly", "SameSite=strict", "Secure", "Path=/"):
        assert part in cookie
    assert "Domain" not in cookie
    assert phone.get("/devices").status_code == 200
    assert second.status_code == 403
    assert "set-cookie" not in second.headers


def test_a_paired_devices_name_stands_in_the_history(folder: Path, access: Access) -> None:
    from tests.web.conftest import homes_of

    jobs = homes_of(folder)
    phone = Client(create_app(jobs, access), PHONE)
    pair(phone, access, "Ann, phone")
    phone.cookies["who"] = "Somebody%20else"
    edit = {"base": 1, "edits": [{"path": "supply.ze_ohm", "value": "0.31"}]}

    saved = phone.send("POST", "/api/jobs/semi/changes", edit)

    assert saved.status_code == 200
    assert saved.json()["who"] == "Ann, phone"
    assert jobs.store.history("semi")[-1].stamp.who == "Ann, phone"


def test_a_removed_device_is_let_in_no_more(phone: Client, access: Access, jobs: Jobs) -> None:
    pair(phone, access)
    desk = Client(create_app(jobs, access))
    (device,) = access.devices.listed()

    assert "Ann, phone" in words(desk.get("/devices").text)
    assert desk.post("/devices/remove", {"device": device.id}).status_code == 303

    assert phone.get("/devices").status_code == 303
    assert desk.post("/devices/remove", {"device": device.id}).status_code == 404


def test_a_device_may_remove_itself_but_no_other(phone: Client, access: Access) -> None:
    pair(phone, access)
    access.devices.admit("Bob, tablet")
    bob, ann = sorted(access.devices.listed(), key=lambda device: device.name, reverse=True)

    assert phone.post("/devices/remove", {"device": bob.id}).status_code == 403
    assert phone.post("/devices/code", {}).status_code == 403
    assert phone.post("/devices/remove", {"device": ann.id}).status_code == 303
    assert access.devices.listed() == (bob,)


def test_without_https_the_page_says_what_is_not_covered(jobs: Jobs) -> None:
    access = Access(Network(frozenset({"192.168.1.20"}), PLAIN))
    phone = Client(create_app(jobs, access), PLAIN)
    code = access.pairing.new_code().signs

    said = words(phone.get("/pair").text)
    cookie = phone.post("/pair", {"code": code, "name": "Ann"}).headers["set-cookie"]

    assert "can read and change what goes to and fro" in said
    assert "cannot be installed" in said
    assert cookie.startswith("session=")
    assert "Secure" not in cookie


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "evil.local", "192.168.1.21", ""])
def test_the_network_is_answered_only_under_its_names(host: str, phone: Client) -> None:
    assert phone.get("/pair", {"host": host}).status_code == 400


def test_a_name_of_the_network_is_no_name_of_the_loopback(jobs: Jobs, access: Access) -> None:
    desk = Client(create_app(jobs, access))

    assert desk.get("/", {"host": "192.168.1.20:8047"}).status_code == 400
    assert desk.get("/", {"host": "localhost:8047"}).status_code == 200


def test_only_this_machine_is_shown_the_code(phone: Client, access: Access, jobs: Jobs) -> None:
    pair(phone, access)
    desk = Client(create_app(jobs, access))

    assert desk.post("/devices/code", {}).status_code == 303
    code = access.pairing.open_code()

    assert code is not None
    shown = desk.get("/devices").text
    assert code.shown in shown
    assert "<svg" in shown
    assert "style=" not in shown
    assert code.shown not in phone.get("/devices").text


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"sec-fetch-site": "same-origin"}, 303),
        ({"sec-fetch-site": "none"}, 303),
        ({"sec-fetch-site": "same-site"}, 403),
        ({"sec-fetch-site": "cross-site"}, 403),
        ({"sec-fetch-site": "cross-site", "origin": "http://127.0.0.1"}, 403),
        ({"origin": "http://127.0.0.1"}, 303),
        ({"origin": "null"}, 403),
        ({"origin": "http://127.0.0.1:1"}, 403),
        ({"origin": "http://localhost"}, 403),
        ({}, 403),
    ],
)
def test_a_change_is_taken_only_from_this_page(
    headers: dict[str, str], status: int, client: Client
) -> None:
    answered = client.send("POST", "/look", {"look": "dark"}, headers=headers, form=True)

    assert answered.status_code == status


def test_a_program_shows_the_token(client: Client) -> None:
    token = client.get("/api/token").json()["token"]
    edit = {"base": 1, "edits": [{"path": "supply.ze_ohm", "value": None}]}
    path = "/api/jobs/none/changes"

    without = client.send("POST", path, edit, headers={})
    wrong = client.send("POST", path, edit, headers={"x-boardwright-token": token[:-1]})
    right = client.send("POST", path, edit, headers={"x-boardwright-token": token})

    assert (without.status_code, wrong.status_code) == (403, 403)
    assert right.status_code == 404


def test_a_code_ends_after_its_time() -> None:
    clock = Clock()
    pairing = Pairing(now=clock)
    code = pairing.new_code()

    clock.at += LIVES - timedelta(seconds=1)
    assert pairing.open_code() == code
    clock.at += timedelta(seconds=1)

    assert pairing.attempt(code.signs, "a") is Outcome.NONE


def test_a_new_code_ends_the_one_before() -> None:
    pairing = Pairing(now=Clock())
    old, new = pairing.new_code(), pairing.new_code()

    assert pairing.attempt(old.signs, "a") is Outcome.WRONG
    assert pairing.attempt(new.signs, "a") is Outcome.LET_IN


def test_wrong_tries_void_the_code() -> None:
    pairing = Pairing(now=Clock())
    code = pairing.new_code()

    said = [pairing.attempt("A" * 8, f"address {n}") for n in range(TRIES)]

    assert said == [Outcome.WRONG] * TRIES
    assert pairing.attempt(code.signs, "another") is Outcome.NONE


def test_tries_are_counted_by_address_and_forgiven_after_a_while() -> None:
    clock = Clock()
    pairing = Pairing(now=clock)
    for _ in range(TRIES_OF_ONE):
        pairing.attempt("wrong", "a")
    code = pairing.new_code()

    assert pairing.attempt(code.signs, "a") is Outcome.TOO_MANY
    assert pairing.open_code() == code
    clock.at += WINDOW
    code = pairing.new_code()
    assert pairing.attempt(code.signs, "a") is Outcome.LET_IN


def test_too_many_tries_are_told_with_when_to_come_back(phone: Client, access: Access) -> None:
    answers = [phone.post("/pair", {"code": "?", "name": "Eve"}) for _ in range(TRIES_OF_ONE + 1)]

    assert {answer.status_code for answer in answers[:-1]} == {403}
    assert answers[-1].status_code == 429
    assert answers[-1].headers["retry-after"] == "600"
    assert access.devices.listed() == ()


def test_codes_are_drawn_from_all_signs_and_never_alike() -> None:
    pairing = Pairing(now=Clock())
    codes = [pairing.new_code().signs for _ in range(300)]

    assert len(set(codes)) == len(codes)
    assert all(re.fullmatch(r"[2-9A-HJ-NP-Z]{8}", code) for code in codes)
    # 2,400 draws of 32: that one sign is missing has a chance of about 32 * (31/32)^2400 = 3e-32.
    assert len(set("".join(codes))) == 32


def test_devices_outlive_the_server_and_only_their_hash_is_kept(tmp_path: Path) -> None:
    file = tmp_path / "kept" / "devices.json"
    secret = Devices(file, now=Clock()).admit("Ann, phone")

    again = Devices(file, now=Clock())

    known = again.known(secret)
    assert known is not None
    assert known.name == "Ann, phone"
    assert secret not in file.read_text(encoding="utf-8")
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert again.known(secret + "x") is None


def test_a_device_ends(tmp_path: Path) -> None:
    clock = Clock()
    devices = Devices(tmp_path / "devices.json", now=clock)
    secret = devices.admit("Ann, phone")

    clock.at += KEPT_FOR
    assert devices.known(secret) is None
    assert devices.listed() == ()


def test_a_device_is_seen_when_it_asks(tmp_path: Path) -> None:
    clock = Clock()
    devices = Devices(tmp_path / "devices.json", now=clock)
    secret = devices.admit("Ann, phone")

    clock.at += timedelta(hours=2)
    devices.known(secret)

    assert devices.listed()[0].seen == START + timedelta(hours=2)


@pytest.mark.parametrize("name", ["", "   ", "x" * 81, "a\x07b"])
def test_a_name_that_no_history_could_show_is_refused(name: str) -> None:
    with pytest.raises(FieldError, match="name: found"):
        Devices().admit(name)


def test_there_is_an_end_to_devices() -> None:
    devices = Devices(now=Clock())
    for number in range(MOST_DEVICES):
        devices.admit(f"phone {number}")

    with pytest.raises(FieldError, match="remove one first"):
        devices.admit("one more")


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"devices": [{}]}', '{"devices": 1}'])
def test_a_broken_list_of_devices_is_told(text: str, tmp_path: Path) -> None:
    file = tmp_path / "devices.json"
    file.write_text(text, encoding="utf-8")

    with pytest.raises(FileError, match="found no list of devices"):
        Devices(file)
