"""A server of its own process: a test ends it as a power cut does, and starts it again."""

from __future__ import annotations

import socket
import subprocess
import sys
import time
from pathlib import Path

import httpx

ROOT = Path(__file__).parents[3]
PATIENCE_S = 120.0


class Server:
    """Serves a folder of homes from a store beside it; the address outlives the process."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def base(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        words = [sys.executable, "-m", "tests.web.browser.server", str(self.folder), str(self.port)]
        self.process = subprocess.Popen(words, cwd=ROOT)
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            try:
                httpx.get(f"{self.base}/manifest.webmanifest").raise_for_status()
            except httpx.HTTPError:
                time.sleep(0.1)
            else:
                return
        raise TimeoutError(self.base)

    def kill(self) -> None:
        """End it at once, with no time to put anything away."""
        if self.process:
            self.process.kill()
            self.process.wait()
            self.process = None


if __name__ == "__main__":
    import uvicorn

    from boardwright.web.app import create_app
    from tests.web.conftest import homes_of

    app = create_app(homes_of(Path(sys.argv[1])))
    uvicorn.run(app, port=int(sys.argv[2]), log_level="warning")
