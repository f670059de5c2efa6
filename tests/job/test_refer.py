"""What a job names of the catalogue, held against the catalogue's ids."""

import pytest

from boardwright.core.errors import FieldError, InputErrors
from boardwright.job.read import parse_job
from boardwright.job.refer import check_references
from tests.job.homes import HOME, spoilt


def test_a_job_passes_as_soon_as_the_catalogue_has_what_it_names() -> None:
    job = parse_job(HOME, "x")

    with pytest.raises(InputErrors):
        check_references(job, set(), set(), {"radio"})
    check_references(job, set(), set(), {"radio", "television"})


def test_each_unknown_name_is_told_with_the_nearest_known_one() -> None:
    wishes = "{spd: ostrey-t2, enclosure: ravel-r9}"
    job = parse_job(spoilt("{board: compare}", wishes), "x")

    with pytest.raises(InputErrors) as caught:
        check_references(job, {"ostrey-t2-2"}, {"ravel-r1-12"}, {"televisions"})

    errors = [error for error in caught.value.errors if isinstance(error, FieldError)]
    assert [(error.path, error.found) for error in errors] == [
        ("wishes.spd", "ostrey-t2"),
        ("wishes.enclosure", "ravel-r9"),
        ("circuits.ring.appliances.tv.kind", "television"),
    ]
    assert str(errors[0]).endswith(
        "expected the id of an SPD of the catalogue. Did you mean 'ostrey-t2-2'?"
    )
    assert str(errors[2]).endswith("Did you mean 'televisions'?")
