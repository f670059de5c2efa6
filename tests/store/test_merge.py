"""What must hold of a merge whatever both sides did."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.store.merge import ABSENT, Clash, Merged, merge

NAMES = st.sampled_from("abcde")
LEAVES = st.none() | st.integers(0, 3) | st.sampled_from(["x", "y"])
WORDS = st.lists(NAMES, unique=True, max_size=4).map(tuple)
MATRICES = st.lists(st.tuples(st.integers(0, 2)), min_size=1, max_size=2).map(tuple)


def _items(inner: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    item = st.dictionaries(st.sampled_from("pq"), inner, max_size=2)
    return st.dictionaries(NAMES, item, max_size=4).map(
        lambda table: tuple({"id": name, **rest} for name, rest in table.items())
    )


TREES = st.recursive(
    LEAVES | WORDS | MATRICES,
    lambda inner: st.dictionaries(NAMES, inner, max_size=4) | _items(inner),
    max_leaves=12,
)
SECTIONS = st.dictionaries(NAMES, TREES, max_size=5)


@st.composite
def _edits(draw: st.DrawFn, tree: Any) -> Any:  # noqa: ANN401 - a tree of any shape
    """Draw a tree that someone made of another by a few changes, as people do."""
    if not draw(st.integers(0, 2)):
        return tree
    if isinstance(tree, dict):
        kept = {key: draw(_edits(value)) for key, value in tree.items() if draw(st.integers(0, 4))}
        return kept | draw(st.dictionaries(NAMES, LEAVES, max_size=1))
    if isinstance(tree, tuple) and all(isinstance(item, dict) for item in tree):
        items = [
            {**draw(_edits(item)), "id": item["id"]} for item in tree if draw(st.integers(0, 4))
        ]
        return tuple(draw(st.permutations(items))) if draw(st.booleans()) else tuple(items)
    return draw(LEAVES | WORDS)


def _three(base: Any) -> st.SearchStrategy[tuple[Any, Any, Any]]:  # noqa: ANN401 - as above
    return st.tuples(st.just(base), _edits(base), _edits(base))


THREE = given(SECTIONS.flatmap(_three) | st.tuples(SECTIONS, SECTIONS, SECTIONS))
DRAWN = settings(max_examples=100, deadline=None, derandomize=True)

Tree = Any
Three = tuple[Tree, Tree, Tree]
Fields = dict[tuple[str, ...], Any]


@DRAWN
@THREE
def test_who_is_called_mine_does_not_matter(three: Three) -> None:
    base, mine, theirs = three
    one, other = merge(base, mine, theirs), merge(base, theirs, mine)

    assert one.value == other.value
    assert one.clashes == tuple(
        Clash(clash.path, clash.base, clash.theirs, clash.mine) for clash in other.clashes
    )


@DRAWN
@THREE
def test_a_change_of_one_side_alone_is_taken_whole(three: Three) -> None:
    base, mine, theirs = three
    assert merge(base, base, theirs) == Merged(theirs)
    assert merge(base, mine, base) == Merged(mine)
    assert merge(base, mine, mine) == Merged(mine)


@DRAWN
@THREE
def test_every_change_is_in_the_result_or_in_a_clash(three: Three) -> None:
    base, mine, theirs = three
    merged = merge(base, mine, theirs)
    before, after = _fields(base), _fields(merged.value)
    disputed = [tuple(clash.path.removesuffix(" (order)").split(".")) for clash in merged.clashes]

    for side in (_fields(mine), _fields(theirs)):
        for path in before.keys() | side.keys():
            changed = before.get(path, ABSENT) != side.get(path, ABSENT)
            in_dispute = any(path[: len(root)] == root[: len(path)] for root in disputed)
            if changed and not in_dispute:
                assert after.get(path, ABSENT) == side.get(path, ABSENT)


@DRAWN
@THREE
def test_nothing_comes_in_that_no_side_wrote(three: Three) -> None:
    base, mine, theirs = three
    written = [_fields(side) for side in (base, mine, theirs)]

    for path, value in _fields(merge(base, mine, theirs).value).items():
        assert any(path in side and side[path] == value for side in written)


@DRAWN
@THREE
def test_a_clash_keeps_all_three_values(three: Three) -> None:
    for clash in merge(*three).clashes:
        assert clash.mine != clash.theirs
        assert clash.base not in (clash.mine, clash.theirs)


def test_two_fields_of_one_section() -> None:
    base = {"supply": {"ze_ohm": 0.2, "ipf_a": 1000}}
    mine = {"supply": {"ze_ohm": 0.3, "ipf_a": 1000}}
    theirs = {"supply": {"ze_ohm": 0.2, "ipf_a": 1200}}

    assert merge(base, mine, theirs) == Merged({"supply": {"ze_ohm": 0.3, "ipf_a": 1200}})


def test_one_field_changed_by_both_is_named() -> None:
    base, mine, theirs = ({"supply": {"ze_ohm": ze}} for ze in (0.2, 0.3, 0.4))

    merged = merge(base, mine, theirs)

    assert merged.clashes == (Clash("supply.ze_ohm", 0.2, 0.3, 0.4),)
    assert merged.value == base


def test_items_go_by_their_name_wherever_they_stand() -> None:
    base = [{"id": "a", "x": 1}, {"id": "b", "x": 1}]
    mine = [{"id": "new", "x": 5}, {"id": "a", "x": 1}, {"id": "b", "x": 2}]
    theirs = [{"id": "b", "x": 1}, {"id": "a", "x": 3}, {"id": "late", "x": 6}]

    merged = merge(base, mine, theirs)

    assert [(item["id"], item["x"]) for item in merged.value] == [
        ("new", 5),
        ("b", 2),
        ("a", 3),
        ("late", 6),
    ]
    assert not merged.clashes


def test_an_item_that_one_removed_and_the_other_changed_is_a_clash() -> None:
    base = {"circuits": [{"id": "a", "x": 1}, {"id": "b", "x": 1}]}
    mine = {"circuits": [{"id": "b", "x": 1}]}
    theirs = {"circuits": [{"id": "a", "x": 2}, {"id": "b", "x": 1}]}

    assert merge(base, mine, theirs).clashes == (
        Clash("circuits.a", {"id": "a", "x": 1}, ABSENT, {"id": "a", "x": 2}),
    )


def test_two_different_orders_are_a_clash() -> None:
    merged = merge({"l": ["a", "b", "c"]}, {"l": ["b", "a", "c"]}, {"l": ["a", "c", "b"]})

    assert [clash.path for clash in merged.clashes] == ["l (order)"]


def test_a_list_without_names_is_one_field() -> None:
    merged = merge({"l": [[1], [2]]}, {"l": [[1]]}, {"l": [[2]]})

    assert [clash.path for clash in merged.clashes] == ["l"]


def _fields(tree: Tree, path: tuple[str, ...] = ()) -> Fields:
    """Return every value by its path; an item goes by its id, a word of a list by itself."""
    if isinstance(tree, dict):
        rows = list(tree.items())
    elif isinstance(tree, tuple) and all(isinstance(item, dict) for item in tree):
        rows = [(item["id"], item) for item in tree]
    elif isinstance(tree, tuple) and all(isinstance(item, str) for item in tree):
        rows = [(item, True) for item in tree]
    else:
        return {path: tree}
    return {key: value for name, row in rows for key, value in _fields(row, (*path, name)).items()}
