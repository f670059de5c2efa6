"""The tests themselves: each can fail, and a published figure has its source beside it."""

import ast
from functools import cache
from pathlib import Path

import pytest

from tests.habits.source import ROOT, SRC

TESTS = ROOT / "tests"
# Folders that mirror no room: whole homes, figures of others, pictures, and the house itself.
OTHER_FOLDERS = {"bench", "golden", "habits", "homes", "published"}
ASSERTING = ("assert_", "expect")


def test_every_test_can_fail() -> None:
    strays = [
        f"{path.relative_to(ROOT)}::{node.name}"
        for path, tree in _trees().items()
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef)
        and node.name.startswith("test_")
        and not _asserts(node)
    ]

    assert not strays, "\n".join(strays)


def test_tests_mirror_the_rooms() -> None:
    folders = {path.relative_to(TESTS).parts[0] for path in _trees() if path.parent != TESTS}
    rooms = {path.stem for path in SRC.iterdir()}

    assert folders <= rooms | OTHER_FOLDERS


def test_every_file_of_published_figures_names_its_source() -> None:
    published = {p: tree for p, tree in _trees().items() if p.parent.name == "published"}
    strays = [path.name for path, tree in published.items() if not ast.get_docstring(tree)]

    assert published
    assert not strays, "\n".join(strays)


@pytest.mark.parametrize(
    ("body", "asserts"),
    [
        ("assert x", True),
        ("with pytest.raises(ValueError): f()", True),
        ("page.expect(x)", True),
        ("np.testing.assert_allclose(a, b)", True),
        ("f()", False),
    ],
)
def test_an_assertion_is_seen(body: str, *, asserts: bool) -> None:
    function = ast.parse(f"def test_x():\n    {body}").body[0]

    assert isinstance(function, ast.FunctionDef)
    assert _asserts(function) is asserts


@cache
def _trees() -> dict[Path, ast.Module]:
    return {path: ast.parse(path.read_text()) for path in sorted(TESTS.rglob("test_*.py"))}


def _asserts(function: ast.FunctionDef) -> bool:
    for node in ast.walk(function):
        match node:
            case ast.Assert():
                return True
            case ast.Call(func=ast.Name(id=name) | ast.Attribute(attr=name)) if (
                name == "raises" or name.startswith(ASSERTING)
            ):
                return True
    return False
