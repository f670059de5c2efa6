"""The page with 1,000 homes in the store: ordinary requests, the first page, what others wait for.

Quality bars of the page: p95 of ordinary requests under 150 ms, the first page under 100 KB
compressed, usable within 1 s on the loopback.
"""

import gzip
import http.client
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path

from boardwright.store import versions
from boardwright.store.engine import writing
from boardwright.store.records import Change, Stamp, Version, digest
from boardwright.store.store import Store, open_store

TITLE = "The page with 1,000 homes in the store"
ROOT = Path(__file__).parents[1]
HOMES = 1000
ROUNDS = 40
FIRST_PAGE = ("/", "/static/page.css", "/static/board.js", "/static/cards.js", "/static/mark.svg")
ORDINARY = (
    "/",
    "/?page=17",
    "/?find=lane+512",
    "/jobs/home-512/survey",
    "/jobs/home-512/history",
    "/api/jobs/home-512",
    "/api/jobs/home-512/pulse",
    "/api/jobs/home-512/questions",
    "/static/page.css",
)


_GZIP = b"\x1f\x8b"


class Browser:
    """Asks over one connection that stays open, as a browser does."""

    def __init__(self, port: int, server: int) -> None:
        self._server = server
        self._connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self._origin = {"origin": f"http://127.0.0.1:{port}", "content-type": "application/json"}

    def get(self, path: str, headers: Mapping[str, str] | None = None) -> bytes:
        """Return the body of an answer as it was sent; anything but 200 is an error."""
        return self._ask("GET", path, None, headers or {})

    def cpu_ms(self, path: str) -> float:
        """Return what the server's processor works on one answer: others' load does not count."""
        before_s = self.worked_s()
        for _ in range(ROUNDS):
            self.get(path)
        return (self.worked_s() - before_s) / ROUNDS * 1e3

    def worked_s(self) -> float:
        """Return the server's processor time so far (Linux, proc(5): fields 14 and 15)."""
        stat = Path(f"/proc/{self._server}/stat").read_text(encoding="ascii")
        fields = stat.rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def post(self, path: str, body: object) -> bytes:
        """Send JSON."""
        return self._ask("POST", path, json.dumps(body), self._origin)

    def _ask(self, method: str, path: str, body: str | None, headers: Mapping[str, str]) -> bytes:
        try:
            self._connection.request(method, path, body, dict(headers))
            answer = self._connection.getresponse()
            sent = answer.read()
        except OSError:
            self._connection.close()
            raise
        if answer.status != http.client.OK:
            raise RuntimeError(f"{method} {path}: answered {answer.status}")
        return sent


@dataclass(frozen=True, slots=True)
class Figure:
    """One measured figure against the bar it must stay under."""

    name: str
    value: float
    unit: str
    bar: float

    def line(self) -> str:
        """Return the figure as one printed line."""
        word = "within" if self.value < self.bar else "OVER"
        return f"{self.name:<44} {self.value:8.1f} {self.unit} ({word} {self.bar:g})"

    def record(self) -> dict[str, object]:
        """Return the figure for the JSON file."""
        return asdict(self)


def measure() -> list[Figure]:
    """Fill a store, serve it in a process of its own, and ask it as browsers do."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "jobs.db"
        store = open_store(place)
        fill(store)
        store.close()
        with served(place, Path(folder)) as client:
            return list(_figures(client))


def _figures(client: Browser) -> Iterator[Figure]:
    began_s = time.perf_counter()
    packed = sum(_packed(client, path) for path in FIRST_PAGE)
    first_s = time.perf_counter() - began_s
    packed += len(client.get("/static/plex.woff2"))
    yield Figure("first page and its files, the first time", first_s * 1e3, "ms", 1000)
    yield Figure("first page and its files, compressed", packed / 1e3, "KB", 100)
    for path in ORDINARY:
        client.get(path)
    times_s = {path: [] for path in ORDINARY}  # type: dict[str, list[float]]
    for _ in range(ROUNDS):
        for path in ORDINARY:
            times_s[path].append(_time_s(client, path))
    for path, own in times_s.items():
        yield Figure(f"p95 of GET {path}", _p95(own) * 1e3, "ms", 150)
    for path in ORDINARY:
        yield Figure(f"work of the processor on GET {path}", client.cpu_ms(path), "ms", 150)
    before_s = client.worked_s()
    yield Figure("p95 of a save", _p95(_saves(client)) * 1e3, "ms", 150)
    worked_ms = (client.worked_s() - before_s) / ROUNDS * 1e3
    yield Figure("work of the processor on a save", worked_ms, "ms", 150)
    every = [each for own in times_s.values() for each in own]
    yield Figure("p95 of all ordinary requests", _p95(every) * 1e3, "ms", 150)
    yield Figure("p95 of the same, a design worked out beside", _beside(client) * 1e3, "ms", 150)


def fill(store: Store, count: int = HOMES) -> None:
    """Put so many homes into a store, in one transaction: reading each would take a minute."""
    text = (ROOT / "examples" / "semi.yaml").read_text(encoding="utf-8")
    stamp = Stamp("nobody", "begun", datetime.now(UTC))
    with writing(store._engine) as connection:
        for number in range(count):
            name, title = f"home-{number}", f"Lane {number}"
            own = text.replace("id: semi", f"id: {name}", 1).replace("3 Alder Close", title, 1)
            versions.add_job(connection, name, "")
            change = Change(name, 1, title, stamp, base=0, sent=digest(own))
            versions.add_version(connection, Version(change, own))


@contextmanager
def served(place: Path, folder: Path) -> Iterator[Browser]:
    """Serve a store in a process of its own, with a cache folder of its own."""
    port = _free_port()
    code = "from boardwright.cli import main; main()"
    command = [sys.executable, "-c", code, "serve", "--store", str(place), "--port", str(port)]
    environment = {
        "PYTHONPATH": str(ROOT / "src"),
        "XDG_CACHE_HOME": str(folder),
        "HOME": str(folder),
    }
    with subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL) as process:
        try:
            client = Browser(port, process.pid)
            _wait(client)
            yield client
        finally:
            process.terminate()


def _saves(client: Browser) -> list[float]:
    times_s = []
    for number in range(ROUNDS):
        job = f"/api/jobs/home-{number}"
        edit = {"path": "supply.ze_ohm", "value": f"0.{200 + number}"}
        began_s = time.perf_counter()
        client.post(f"{job}/changes", {"base": 1, "edits": [edit]})
        times_s.append(time.perf_counter() - began_s)
    return times_s


def _beside(client: Browser) -> float:
    """Return the p95 of ordinary requests while designs are worked out that nobody had before."""
    times_s = []
    for number in range(4):
        client.post(f"/api/jobs/home-{900 + number}/running", {})
        for path in ORDINARY * 4:
            times_s.append(_time_s(client, path))  # noqa: PERF401 - each asks while another works
    return _p95(times_s)


def _packed(client: Browser, path: str) -> int:
    """Return the bytes of an answer as they were sent."""
    sent = client.get(path, {"accept-encoding": "gzip"})
    assert gzip.decompress(sent) if sent.startswith(_GZIP) else sent
    return len(sent)


def _time_s(client: Browser, path: str) -> float:
    began_s = time.perf_counter()
    client.get(path)
    return time.perf_counter() - began_s


def _p95(times_s: Sequence[float]) -> float:
    return statistics.quantiles(times_s, n=20)[-1]


def _wait(client: Browser) -> None:
    for _ in range(600):
        try:
            client.get("/api/token")
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise RuntimeError("the page did not start within a minute")


def _free_port() -> int:
    import socket

    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])
