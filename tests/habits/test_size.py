"""House limits on size, from the project's style page: what is small gets read."""

import ast
from pathlib import Path
from statistics import median

from tests.habits.source import Definition, definitions, module, parameters, trees

FILE_LINES = 400
FILE_LINES_MEDIAN = 150
BODY_LINES = 50
BODY_LINES_USUAL = 20
BODIES_USUAL = 0.9
PARAMETERS = 6

# Functions that may take more parameters, each with its reason.
MANY_PARAMETERS: dict[str, str] = {
    "cli.circuit.circuit": "one option for each thing that is known of a circuit",
    "cli.electrode.electrode": "one option for each thing that is known of an electrode",
    "cli.ring.ring": "one option for each thing that is read of a ring",
    "cli.serve.serve": "one option for each thing that may be chosen of a server",
    "cli.surge.surge": "one option for each thing the command may do",
}


def test_no_file_reaches_400_lines() -> None:
    strays = [f"{module(path)}: {n} lines" for path, n in _file_lines() if n >= FILE_LINES]

    assert not strays, "\n".join(strays)


def test_the_median_file_is_under_150_lines() -> None:
    assert median(n for _, n in _file_lines()) < FILE_LINES_MEDIAN


def test_no_body_is_over_50_lines() -> None:
    strays = [
        f"{found.place}: {_body_lines(found)} lines"
        for found in definitions()
        if _body_lines(found) > BODY_LINES
    ]

    assert not strays, "\n".join(strays)


def test_nine_bodies_in_ten_have_at_most_20_lines() -> None:
    long = sorted(
        ((_body_lines(found), found.place) for found in definitions()),
        reverse=True,
    )
    strays = [f"{place}: {n} lines" for n, place in long if n > BODY_LINES_USUAL]

    assert len(strays) <= (1 - BODIES_USUAL) * len(long), "\n".join(strays)


def test_no_function_takes_more_than_6_parameters() -> None:
    counts = {found.place: _own_parameters(found) for found in definitions()}
    many = {place for place, n in counts.items() if n > PARAMETERS}

    assert sorted(many - MANY_PARAMETERS.keys()) == []
    assert sorted(MANY_PARAMETERS.keys() - many) == [], "an exception nobody needs any more"


def test_no_function_passes_its_kwargs_on() -> None:
    strays = [found.place for found in definitions() if _passes_kwargs_on(found)]

    assert not strays, "\n".join(strays)


def _file_lines() -> list[tuple[Path, int]]:
    return [(path, len(path.read_text().splitlines())) for path in trees()]


def _body_lines(found: Definition) -> int:
    """Count from the first statement to the last: an explained function is not a long one."""
    body = found.node.body
    explained = ast.get_docstring(found.node, clean=False) is not None
    code = body[1:] if explained else body
    return (code[-1].end_lineno or 0) - code[0].lineno + 1 if code else 0


def _own_parameters(found: Definition) -> int:
    names = [parameter.arg for parameter in parameters(found.node)]
    return len(names) - (found.in_class and names[:1] in (["self"], ["cls"]))


def _passes_kwargs_on(found: Definition) -> bool:
    kwargs = found.node.args.kwarg
    return kwargs is not None and any(
        isinstance(node, ast.keyword)
        and node.arg is None
        and isinstance(node.value, ast.Name)
        and node.value.id == kwargs.arg
        for node in ast.walk(found.node)
    )
