"""A PostgreSQL server of the tests' own: on the loopback, in a folder of its own, never as root."""

from __future__ import annotations

import os
import pwd
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

USER = "keeper"
_BINARIES = Path("/usr/lib/postgresql")
_START_S = 60.0
# Should the tests be killed, the server goes with them.
_LEASH = ["--pdeathsig=QUIT"]


def binaries() -> Path | None:
    """Return the folder of the newest server that is installed."""
    found = [path.parent for path in _BINARIES.glob("*/bin/initdb")]
    on_path = shutil.which("initdb")
    if on_path:
        found.append(Path(on_path).resolve().parent)
    return max(found, key=_version, default=None)


@contextmanager
def running(folder: Path) -> Iterator[str]:
    """Run the server of a folder of binaries; give its address without a database."""
    # Not below pytest's own folder, which only its owner may enter.
    home = Path(tempfile.mkdtemp(prefix="boardwright-pg-"))
    port = _free_port()
    try:
        if os.getuid() == 0:
            shutil.chown(home, _account())
        data = home / "data"
        _as_nobody(
            [str(folder / "initdb"), "-D", str(data), "-U", USER, "-A", "trust", "-E", "UTF8"]
        )
        server = _started(folder, data, port)
        try:
            _wait(folder, port, server)
            yield f"postgresql://{USER}@127.0.0.1:{port}"
        finally:
            # The server's immediate end: nothing of it is wanted any more.
            server.send_signal(signal.SIGQUIT)
            server.wait(30)
    finally:
        shutil.rmtree(home, ignore_errors=True)


def _started(folder: Path, data: Path, port: int) -> subprocess.Popen[bytes]:
    options = {
        "listen_addresses": "127.0.0.1",
        "port": str(port),
        "unix_socket_directories": "",
        # The server is thrown away with the tests; nobody pulls its plug.
        "fsync": "off",
        "full_page_writes": "off",
    }
    settings = [part for name, value in options.items() for part in ("-c", f"{name}={value}")]
    with (data.parent / "log").open("wb") as log:
        return subprocess.Popen(
            [*_prefix(), str(folder / "postgres"), "-D", str(data), *settings],
            cwd=data.parent,
            stdout=log,
            stderr=log,
        )


def _wait(folder: Path, port: int, server: subprocess.Popen[bytes]) -> None:
    ask = [str(folder / "pg_isready"), "-q", "-h", "127.0.0.1", "-p", str(port)]
    end_s = time.monotonic() + _START_S
    while subprocess.run(ask, check=False).returncode != 0:
        if server.poll() is not None or time.monotonic() > end_s:
            raise RuntimeError("the test server did not start")
        time.sleep(0.05)


def needed(folder: Path | None, *, ci: bool) -> Path:
    """Return the folder of binaries; without one, skip, but never where everything must run."""
    if folder is not None:
        return folder
    if ci:
        pytest.fail("no PostgreSQL server is installed; `./run test` as root installs it")
    pytest.skip("no PostgreSQL server is installed")


def _as_nobody(command: list[str]) -> None:
    subprocess.run(
        [*_prefix(), *command], cwd="/", check=True, capture_output=True, env=_environment()
    )


def _environment() -> dict[str, str]:
    return {**os.environ, "LC_ALL": "C.UTF-8"}


def _prefix() -> list[str]:
    """Return what goes before a command so that it does not run as root."""
    if os.getuid() != 0:
        return []
    return [
        "setpriv",
        f"--reuid={_account()}",
        f"--regid={_group()}",
        "--clear-groups",
        *_LEASH,
        "--",
    ]


def _account() -> str:
    try:
        return pwd.getpwnam("postgres").pw_name
    except KeyError:
        return "nobody"


def _group() -> str:
    return str(pwd.getpwnam(_account()).pw_gid)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _version(folder: Path) -> tuple[int, ...]:
    name = folder.parent.name
    return tuple(int(part) for part in name.split(".") if part.isdecimal())
