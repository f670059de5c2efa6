"""A stage turns results into results: no clock, environment, file or chance may reach it."""

import ast
from collections.abc import Iterator

import pytest

from tests.habits.source import module, trees

STAGES = {
    "gate",
    "circuits",
    "spd",
    "board",
    "wiring",
    "surge",
    "verification",
    "design",
    "proof",
}
# Modules that reach outside, and calls that do so from a module which is otherwise harmless.
OUTSIDE = {"io", "os", "pathlib", "random", "secrets", "socket", "subprocess", "time", "uuid"}
CALLS = {"now", "open", "read_bytes", "read_text", "today", "utcnow", "write_bytes", "write_text"}

# Modules of a stage that may reach outside, each with its reason.
EXCEPTIONS: dict[str, str] = {
    "surge.jit": "names the folder of compiled code after the kernels' own sources",
    "surge.assumptions": "reads the figures that ship with it; the caller loads them once",
}


def test_no_stage_reaches_outside() -> None:
    reaching = {
        name: list(_reaches(tree))
        for name, tree in ((module(path), tree) for path, tree in trees().items())
        if name.split(".")[0] in STAGES
    }
    strays = [f"{name}: {what}" for name in reaching for what in reaching[name]]
    unexcused = [stray for stray in strays if stray.split(":")[0] not in EXCEPTIONS]

    assert not unexcused, "\n".join(unexcused)
    assert [name for name in EXCEPTIONS if not reaching.get(name)] == []


@pytest.mark.parametrize(
    ("code", "what"),
    [
        ("import os.path", ["os"]),
        ("from time import perf_counter", ["time"]),
        ("today = date.today()", ["today()"]),
        ("text = open(path).read()", ["open()"]),
        ("import math", []),
    ],
)
def test_reaching_outside_is_seen(code: str, what: list[str]) -> None:
    assert list(_reaches(ast.parse(code))) == what


def _reaches(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        match node:
            case ast.Import(names=names):
                roots = [alias.name.split(".")[0] for alias in names]
                yield from (root for root in roots if root in OUTSIDE)
            case ast.ImportFrom(module=str(name), level=0) if name.split(".")[0] in OUTSIDE:
                yield name
            case ast.Call(func=ast.Name(id=name) | ast.Attribute(attr=name)) if name in CALLS:
                yield f"{name}()"
