"""A public number carries its unit in its name, or is listed as a pure number."""

import ast
from collections.abc import Iterator
from functools import cache

import pytest

from tests.habits.source import definitions, module, parameters, trees
from tests.habits.units import PURE_ENDINGS, PURE_NUMBERS, UNITS


def test_every_float_parameter_carries_its_unit() -> None:
    strays = [
        f"{found.place}({parameter.arg})"
        for found in definitions()
        if found.public
        for parameter in parameters(found.node)
        if _holds_a_float(parameter.annotation) and not _carries_unit(parameter.arg)
    ]

    assert not strays, "\n".join(strays)


def test_every_float_field_carries_its_unit() -> None:
    strays = [
        f"{module(path)}.{name}"
        for path, tree in trees().items()
        for name in _float_fields(tree)
        if not _carries_unit(name.rpartition(".")[2])
    ]

    assert not strays, "\n".join(strays)


@pytest.mark.parametrize(
    ("annotation", "holds"),
    [
        ("float", True),
        ("float | None", True),
        ("tuple[float, ...]", True),
        ("Annotated[float, Field(gt=0)]", True),
        ("int", False),
        ("Callable[[float], float]", False),
    ],
)
def test_a_float_is_found_in_its_annotation(annotation: str, *, holds: bool) -> None:
    assert _holds_a_float(ast.parse(annotation, mode="eval").body) is holds


def test_a_pure_number_is_listed_only_if_its_name_does_not_say_so() -> None:
    assert [name for name in PURE_NUMBERS if name.endswith(UNITS + PURE_ENDINGS)] == []


def _carries_unit(name: str) -> bool:
    return name in PURE_NUMBERS or f"_{name}".endswith(UNITS + PURE_ENDINGS)


def _holds_a_float(annotation: ast.expr | None) -> bool:
    """Say whether an annotation is a float, an optional one or a collection of them.

    A callable is no number: its own parameters are named where it is defined.
    """
    match annotation:
        case ast.Name(id=name):
            return name == "float" or name in _float_aliases()
        case ast.Subscript(value=ast.Name(id="Callable" | "Literal")) | None:
            return False
        case _:
            return any(
                _holds_a_float(child)
                for child in ast.iter_child_nodes(annotation)
                if isinstance(child, ast.expr)
            )


@cache
def _float_aliases() -> frozenset[str]:
    """Return the names given to one restricted float, as Share = Annotated[float, ...]."""
    return frozenset(
        target.id
        for tree in trees().values()
        for node in tree.body
        if isinstance(node, ast.Assign)
        and ast.unparse(node.value).startswith(("float", "Annotated[float"))
        for target in node.targets
        if isinstance(target, ast.Name)
    )


def _float_fields(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            for field in node.body:
                if (
                    isinstance(field, ast.AnnAssign)
                    and isinstance(field.target, ast.Name)
                    and not field.target.id.startswith("_")
                    and _holds_a_float(field.annotation)
                ):
                    yield f"{node.name}.{field.target.id}"
