"""Undo and redo as anyone knows them, though nothing is ever taken back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.store.undo import Steps, steps


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.lists(st.sampled_from(["edit", "undo", "redo"]), max_size=30))
def test_it_does_what_two_stacks_do(actions: list[str]) -> None:
    """The textbook's own definition: a stack of what was done and one of what was undone."""
    done, undone = [1], list[int]()
    course: list[tuple[int, int | None]] = [(1, None)]
    for action in actions:
        now, number = steps(course), len(course) + 1
        if action == "edit":
            course.append((number, None))
            done.append(number)
            undone.clear()
        elif action == "undo" and len(done) > 1:
            undone.append(done.pop())
            course.append((number, now.back))
        elif action == "redo" and undone:
            done.append(undone.pop())
            course.append((number, now.forward))
        assert steps(course) == Steps(
            done[-2] if len(done) > 1 else None, undone[-1] if undone else None
        )


@pytest.mark.parametrize(
    ("restores", "expected"),
    [
        ([None, None, None], Steps(2, None)),
        ([None, None, None, 1], Steps(None, 2)),
        ([None, None, None, 1, 3], Steps(2, None)),
        ([None, None, 1, None], Steps(1, None)),
        # Repeating what is neither behind nor ahead is a step of its own.
        ([None, None, 1, None, 2], Steps(4, None)),
    ],
)
def test_jumps_over_several_steps(restores: list[int | None], expected: Steps) -> None:
    assert steps(enumerate(restores, start=1)) == expected
