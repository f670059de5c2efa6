"""The project's own files and their syntax trees, read once for all habit tests."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
SRC = ROOT / "src" / "boardwright"
FOLDERS = (".ci", "bench", "docs", "examples", "experiments", "requirements", "src", "tests")
BINARY = {".gz", ".heic", ".jpg", ".pdf", ".png", ".pyc", ".ttf", ".woff2", ".xlsx"}

Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True, slots=True)
class Definition:
    """A function and the dotted place it is defined in."""

    place: str
    node: Function
    in_class: bool
    public: bool


@cache
def trees() -> dict[Path, ast.Module]:
    """Return the syntax tree of every module of the program."""
    return {path: ast.parse(path.read_text()) for path in sorted(SRC.rglob("*.py"))}


def module(path: Path) -> str:
    """Return a module's dotted name below the package, as surge.solver."""
    return ".".join(path.relative_to(SRC).with_suffix("").parts)


@cache
def definitions() -> tuple[Definition, ...]:
    """Return every function of the program, nested ones included."""
    return tuple(
        found
        for path, tree in trees().items()
        for found in _definitions(tree, module(path), public=True)
    )


def _definitions(parent: ast.AST, place: str, *, public: bool) -> Iterator[Definition]:
    for node in ast.iter_child_nodes(parent):
        if not isinstance(node, Function | ast.ClassDef):
            yield from _definitions(node, place, public=public)
            continue
        here = f"{place}.{node.name}"
        # What is defined inside a function can be called by nobody else.
        seen = public and not node.name.startswith("_") and not isinstance(parent, Function)
        if isinstance(node, Function):
            yield Definition(here, node, isinstance(parent, ast.ClassDef), public=seen)
        yield from _definitions(node, here, public=seen and isinstance(node, ast.ClassDef))


def parameters(node: Function) -> list[ast.arg]:
    """Return the named parameters of a function, self and cls included."""
    return [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]


@cache
def texts() -> dict[Path, str]:
    """Return the text of every file that is to be committed."""
    inside = (path for folder in FOLDERS for path in (ROOT / folder).rglob("*"))
    # Left out: what a tool makes for itself, which .gitignore lists too.
    made = {"out", "__pycache__", ".venv", ".git"}
    return {
        path.relative_to(ROOT): path.read_text()
        for path in sorted([*ROOT.iterdir(), *inside])
        if path.is_file()
        and path.suffix not in BINARY
        and not made.intersection(path.relative_to(ROOT).parts)
        and path.name not in {".coverage", "uv.lock"}
    }
