"""What a command says on the terminal about the papers it wrote."""

from pathlib import Path

import pytest

from boardwright.documents.save import Saved
from boardwright.terminal import papers, show

SAVED = (
    Saved("Findings", Path("out/semi/findings.txt"), beside=False),
    Saved("Pack", Path("out/semi/pack-2.pdf"), beside=True),
)


def test_plain_text_goes_out_as_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    show("The board [fits].\n", ())

    assert capsys.readouterr().out == "The board [fits].\n"


def test_the_papers_are_named_and_a_persons_file_is_spared(
    capsys: pytest.CaptureFixture[str],
) -> None:
    show("Answer.\n", SAVED)
    said = capsys.readouterr().out

    assert f"Papers in {Path('out/semi')}: findings.txt, pack-2.pdf" in said
    assert "Pack: the file of the usual name is yours and was left; see pack-2.pdf." in said


def test_no_papers_no_words() -> None:
    assert papers(()) == ""
