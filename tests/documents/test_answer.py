"""The answer first: what is said aloud, what comes first, what is only counted."""

from dataclasses import replace

from boardwright.core.findings import Finding, Known, Rule, Verdict
from boardwright.documents.words.answer import answer, grouped
from tests.documents.small import FINDINGS, small_design, with_findings

RULE = Rule("1", "e", Known.FOUND)


def test_the_answer_can_be_said_aloud() -> None:
    said = answer(small_design())

    assert said.sentence == "The board fits. One thing fails. One thing to settle first."
    assert [group.lead.check for group in said.first] == ["gate.bonding.water"]
    assert [group.lead.verdict for group in said.then] == [Verdict.FAIL, Verdict.ADVISE]
    assert said.counts == "3 within, 1 not applicable."


def test_a_stop_is_said_before_anything_else() -> None:
    stop = Finding("gate.earth", Verdict.STOP, "Earthing", "There is none.", RULE)
    said = answer(with_findings(small_design(), (*FINDINGS, stop)))

    assert said.sentence == "The work must not go ahead. One thing forbids it. One thing fails."
    assert said.first[0].lead is stop


def test_nothing_against_it_is_said_too() -> None:
    passed = tuple(f for f in FINDINGS if f.verdict is Verdict.PASS)
    said = answer(with_findings(small_design(), passed))

    assert said.sentence == "The board fits. Nothing found against it."
    assert said.counts == "3 within."


def test_a_board_that_lacks_a_part_is_not_said_to_fit() -> None:
    design = small_design()
    board = replace(design.chosen.board, missing=("an RCBO of 50 A",))
    lacking = replace(design, variants=(replace(design.chosen, board=board),))

    assert answer(lacking).sentence.startswith("No board on offer holds everything.")


def test_one_deed_is_one_entry_whatever_asks_for_it() -> None:
    asks = tuple(
        Finding(f"circuit.{n}", Verdict.UNKNOWN, subject, said, RULE, remedy="Measure it.")
        for n, (subject, said) in enumerate((("A", "One."), ("B", "One."), ("B", "Two.")))
    )
    (group,) = grouped(asks)

    assert group.subjects == "A, B"
    assert group.said == (("", "One."), ("B", "Two."))
    assert group.to_do == "Measure it."
