"""The examples of docs/catalogue.md are read by the program as they stand."""

import re
from pathlib import Path

import pytest

from boardwright.catalogue.load import load_catalogue
from boardwright.core.errors import InputErrors

PAGE = (Path(__file__).parents[2] / "docs" / "catalogue.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)


def test_the_examples_load(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text("\n".join(EXAMPLES), encoding="utf-8")

    own = load_catalogue(tmp_path).devices.keys() - load_catalogue().devices.keys()

    assert own == {"own-spd-t2", "own-mcb-b16", "own-mcb-b32"}


def test_the_sentence_is_what_the_program_says(tmp_path: Path) -> None:
    bad = EXAMPLES[0].replace("ravel-mcb-c32", "ravel-mcb-c33")
    (tmp_path / "own.toml").write_text(bad, encoding="utf-8")

    with pytest.raises(InputErrors) as caught:
        load_catalogue(tmp_path)

    assert str(caught.value) in PAGE
