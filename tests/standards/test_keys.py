"""Every figure that the program asks an edition for is there."""

import ast

import pytest

from boardwright.standards.load import editions, load_edition
from tests.habits.source import trees

_ASK = {"entry", "number", "text", "switch", "rule", "table", "cell_rule"}


def _asked() -> set[str]:
    return {
        node.args[0].value
        for tree in trees().values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in _ASK
        and "edition" in ast.unparse(node.func.value)
        and node.args
        and isinstance(node.args[0], ast.Constant)
        and isinstance(node.args[0].value, str)
    }


@pytest.mark.parametrize("name", editions())
def test_every_key_asked_for_exists(name: str) -> None:
    edition = load_edition(name)
    asked = _asked()

    assert len(asked) > 50, "the search for keys finds nothing any more"
    there = {*edition.entries, *edition.tables, *edition.absent}
    missing = sorted(asked - there)
    assert missing == []
