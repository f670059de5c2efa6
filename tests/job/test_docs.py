"""The manual's page on the job file says what the program does."""

import re
from pathlib import Path

from boardwright.job.read import parse_job
from tests.job.homes import HOME, said

PAGE = (Path(__file__).parents[2] / "docs" / "job-file.md").read_text()


def test_the_example_is_a_job() -> None:
    example = re.search(r"```yaml\n(.*?)```", PAGE, re.DOTALL)

    assert example is not None
    assert parse_job(example[1], "x").circuit("shower").bathroom


def test_the_errors_shown_are_the_programs_own() -> None:
    shown = re.search(r"```text\n(.*?)```", PAGE, re.DOTALL)
    text = HOME.replace("0.21", "0,35").replace("ways: 6", "ways: 300")
    text = text.replace("length_m: 55", "lenght_m: 55")

    assert shown is not None
    # The missing length is an error of its own, which the page leaves out.
    assert [line for line in said(text).splitlines() if "nothing" not in line] == shown[
        1
    ].splitlines()
