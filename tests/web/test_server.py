"""The server as a process: started, paired over TLS, killed in the middle, started again."""

from __future__ import annotations

import os
import re
import signal
import socket
import ssl
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import httpx
import pytest

from boardwright.store.store import open_store
from boardwright.web.app import create_app
from boardwright.web.devices.access import Access, Network
from boardwright.web.devices.sessions import Devices
from boardwright.web.homes.jobs import Jobs
from boardwright.web.server import serve, tls
from tests.habits.source import ROOT
from tests.web.conftest import HOMES

pytestmark = pytest.mark.slow

FAR = "127.0.0.2"
"""An address of this machine that the page does not take for its own: it plays the network."""


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


@contextmanager
def started(folder: Path, port: int) -> Iterator[subprocess.Popen[bytes]]:
    """Start the command itself, over one store."""
    command = [sys.executable, "-m", "boardwright", "serve", "--port", str(port)]
    command += ["--store", str(folder / "jobs.db")]
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "HOME": str(folder)}
    process = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL)
    try:
        end = time.monotonic() + 60
        while time.monotonic() < end:
            with socket.socket() as asked:
                if asked.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.05)
        yield process
    finally:
        process.kill()
        process.wait()


def asking(port: int) -> httpx.Client:
    base = f"http://127.0.0.1:{port}"
    return httpx.Client(base_url=base, headers={"origin": base}, timeout=30)


def test_a_server_that_is_killed_loses_nothing_that_it_confirmed(tmp_path: Path) -> None:
    port = free_port()
    text = (HOMES / "semi.yaml").read_text(encoding="utf-8")
    confirmed: list[tuple[int, str]] = []
    base = 1
    for life in range(3):
        with started(tmp_path, port) as process, asking(port) as page:
            if life == 0:
                page.post("/api/jobs", json={"text": text}).raise_for_status()
            for number in range(12):
                ze = f"0.{200 + 20 * life + number}"
                asked = {"base": base, "edits": [{"path": "supply.ze_ohm", "value": ze}]}
                if number == 8:
                    # Killed while the next save may be at any of its steps.
                    threading.Timer(
                        0.005 * (life + 1), process.send_signal, [signal.SIGKILL]
                    ).start()
                try:
                    saved = page.post("/api/jobs/semi/changes", json=asked)
                    saved.raise_for_status()
                except httpx.TransportError:
                    break
                base = saved.json()["version"]
                confirmed.append((base, ze))
        store = open_store(tmp_path / "jobs.db")
        base = store.latest("semi").number
        store.close()

    jobs = Jobs(open_store(tmp_path / "jobs.db"))
    assert len(confirmed) >= 24
    for number, ze in confirmed:
        assert jobs.load("semi", number).supply.ze_ohm == float(ze)
    assert len(jobs.store.history("semi")) >= len(confirmed) + 1


def test_a_page_opened_before_the_restart_goes_on_after_it(tmp_path: Path) -> None:
    port = free_port()
    with started(tmp_path, port), asking(port) as page:
        answers = {"kind": "house", "service": "", "system": "TT", "board": "new", "title": "A"}
        assert page.post("/start/answers", data=answers).status_code == 303
    with started(tmp_path, port), asking(port) as page:
        edit = {"base": 1, "edits": [{"path": "supply.ze_ohm", "value": "22"}]}
        saved = page.post("/api/jobs/a/changes", json=edit)
        asked = page.get("/api/jobs/a").json()

    assert saved.json()["version"] == 2
    assert asked["job"]["supply"]["ze_ohm"] == 22


def test_the_command_says_what_is_wrong_with_its_options(tmp_path: Path) -> None:
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "HOME": str(tmp_path)}
    for options, said in (
        (["--plain"], "--lan: found None, expected --lan with"),
        (["--lan", "--address", "8.8.8.8"], "--address: found '8.8.8.8'"),
        (["--lan", "--address", "10.255.255.1", "--key", "k.pem"], "both --certificate and --key"),
    ):
        command = [sys.executable, "-m", "boardwright", "serve", *options]
        done = subprocess.run(command, capture_output=True, text=True, env=environment, check=False)
        assert done.returncode == 2
        assert said in done.stderr
        assert "Traceback" not in done.stderr


@pytest.fixture
def network(tmp_path: Path) -> Iterator[tuple[Access, str, ssl.SSLContext]]:
    """Serve the examples over TLS at an address that plays the local network."""
    certificate = tls.made(tmp_path / "tls", (FAR, "desk.local"), datetime.now(UTC))
    taken = serve._bound(FAR, 0)
    port = taken.getsockname()[1]
    base = f"https://{FAR}:{port}"
    names = Network(frozenset({FAR, "desk.local"}), base, True, certificate.authority, "AB:CD")  # noqa: FBT003 - over TLS
    access = Access(names, Devices(tmp_path / "devices.json"))
    jobs = Jobs(open_store(tmp_path / "jobs.db"))
    server = serve._server(create_app(jobs, access), certificate)
    thread = threading.Thread(target=lambda: server.run(sockets=[taken]), daemon=True)
    thread.start()
    while not server.started:
        thread.join(0.05)
    trusting = ssl.create_default_context(cadata=certificate.authority.decode())
    yield access, base, trusting
    server.should_exit = True
    thread.join(10)


def test_a_phone_pairs_over_tls_and_works(network: tuple[Access, str, ssl.SSLContext]) -> None:
    access, base, trusting = network
    with httpx.Client(base_url=base, verify=trusting, headers={"origin": base}) as phone:
        assert phone.get("/").headers["location"] == "/pair"
        assert phone.get("/static/page.css").status_code == 200
        given = phone.get("/authority.crt")
        link = access.link(access.pairing.new_code())
        code = re.findall(r'name="code" value="(\w{8})"', phone.get(link).text)[0]
        paired = phone.post("/pair", data={"code": code, "name": "Ann, phone"})
        begun = phone.post("/start/example", data={"name": "flat"})
        listed = phone.get("/").text
        phone.cookies.clear()
        stranger = phone.get("/api/jobs")

    assert given.content.startswith(b"-----BEGIN CERTIFICATE-----")
    assert (paired.status_code, begun.status_code) == (303, 303)
    assert "61 Quayside House" in listed
    assert stranger.status_code == 401


def test_without_trust_there_is_no_page(network: tuple[Access, str, ssl.SSLContext]) -> None:
    _, base, _ = network

    with pytest.raises(httpx.ConnectError, match="certificate verify failed"):
        httpx.get(base)
    with pytest.raises(httpx.TransportError):
        httpx.get(base.replace("https", "http"))
