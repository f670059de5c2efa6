"""What no committed file may hold: addresses, paths of one machine, unfinished work."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.habits.source import texts

# Namespaces name a standard and are never fetched; the loopback is the page's own address.
ADDRESS = re.compile(
    r"https?://(?!www\.w3\.org/|json-schema\.org/|127\.0\.0\.1|localhost|testserver|\{)",
    re.IGNORECASE,
)
REGISTRY = re.compile(
    r"pypi\.org|pythonhosted\.org|npmjs\.|deb\.debian\.org|index[-]url", re.IGNORECASE
)
MACHINE_PATH = re.compile(r"(?<![\w.*])/(work|root|home|Users)/\w")
UNFINISHED = re.compile(r"\bT[O]DO\b|\bF[I]XME\b|\bX[X]X\b|NotI[m]plementedError")


def test_no_file_holds_an_address() -> None:
    strays = _strays(ADDRESS)

    assert not strays, "\n".join(strays)


def test_no_file_names_a_registry() -> None:
    strays = _strays(REGISTRY)

    assert not strays, "\n".join(strays)


def test_no_file_holds_a_path_of_one_machine() -> None:
    strays = _strays(MACHINE_PATH)

    assert not strays, "\n".join(strays)


def test_no_code_is_unfinished() -> None:
    strays = _strays(UNFINISHED, lambda path: path.suffix == ".py")

    assert not strays, "\n".join(strays)


def test_every_locked_package_has_a_hash() -> None:
    for name in ("run", "dev"):
        lock = texts()[Path(f"requirements/{name}.txt")].replace("\\\n", " ").splitlines()

        assert [line for line in lock if "==" in line and "--hash=sha256:" not in line] == []


def test_the_dev_lock_holds_the_run_lock() -> None:
    run, dev = (_pins(name) for name in ("run", "dev"))

    assert [pin for pin in run if pin not in dev] == []


@pytest.mark.parametrize(
    ("pattern", "caught", "let_through"),
    [
        (ADDRESS, "see https:" + "//example.com", 'xmlns="http://www.w3.org/2000/svg"'),
        (MACHINE_PATH, "open('/ho" + "me/ann/x')", "network/ro" + "ot/x"),
        (UNFINISHED, "# TO" + "DO later", "mastodont"),
    ],
)
def test_a_pattern_tells_stray_from_good(
    pattern: re.Pattern[str], caught: str, let_through: str
) -> None:
    assert pattern.search(caught)
    assert not pattern.search(let_through)


def _strays(pattern: re.Pattern[str], wanted: Callable[[Path], bool] = lambda _: True) -> list[str]:
    return [
        f"{path}:{number}: {line.strip()[:80]}"
        for path, text in texts().items()
        if wanted(path)
        for number, line in enumerate(text.splitlines(), start=1)
        if pattern.search(line)
    ]


def _pins(name: str) -> dict[str, str]:
    """Return version and marker by package, without what only another system needs."""
    text = texts()[Path(f"requirements/{name}.txt")]
    return dict(re.findall(r"^([\w.-]+)==(\S+)", text, re.MULTILINE))
