"""The surge network of a job's home, kept between runs: the design behind it takes seconds."""

from __future__ import annotations

import hashlib
import os
from contextlib import suppress
from pathlib import Path

from platformdirs import user_cache_path

from boardwright.core.errors import FileError


def home_network(job_path: Path) -> str:
    """Return the network of a job's home as designed, as JSON.

    It follows from the job and the program alone, so it is kept under a name made
    from both: a changed job, figure or line of code makes another name.
    """
    kept = user_cache_path("boardwright") / "networks" / f"{_key(job_path)}.json"
    if kept.exists():
        return read_text(kept)
    text = _designed(job_path)
    # Where nothing can be kept, it is worked out again the next time.
    with suppress(OSError):
        kept.parent.mkdir(parents=True, exist_ok=True)
        whole = kept.with_suffix(f".{os.getpid()}")
        whole.write_text(text, "utf-8")
        whole.replace(kept)  # a reader meets all of it or nothing
    return text


def _key(job_path: Path) -> str:
    package = Path(__file__).parents[2]
    files = sorted(file for file in package.rglob("*") if file.suffix in {".py", ".toml"})
    stamps = "".join(f"{file}{file.stat().st_mtime_ns}" for file in files)
    return hashlib.sha256((read_text(job_path) + stamps).encode()).hexdigest()


def _designed(job_path: Path) -> str:
    from boardwright.catalogue.load import load_catalogue
    from boardwright.design import design
    from boardwright.documents.surge.home import line_of
    from boardwright.job.read import read_job
    from boardwright.standards.load import load_edition
    from boardwright.surge.assumptions import load_assumptions
    from boardwright.surge.build import network_of
    from boardwright.surge.study import STANDARD_SURGE

    job = read_job(job_path)
    result = design(job, load_catalogue(), load_edition(job.edition))
    _, home = line_of(result)
    return network_of(home, STANDARD_SURGE.wave, load_assumptions()).to_json()


def read_text(path: Path) -> str:
    """Return the text of a file, or say why not."""
    try:
        return path.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise FileError(f"{path}: cannot be read ({error}).") from None


def write_text(path: Path, text: str) -> None:
    """Write a text, or say why not."""
    try:
        path.write_text(text, "utf-8")
    except OSError as error:
        raise FileError(f"{path}: cannot be written ({error.strerror}).") from None
