"""Papers on the SPD's back-up and wear, and on declining it: what they say, and to whom."""

import re
from dataclasses import replace

import pytest

from boardwright.design import Design
from boardwright.documents.duty import decline, spd_duty
from boardwright.documents.duty.words import duty_words
from boardwright.documents.pack.duty import duty
from boardwright.documents.words.plain import WIDTH
from boardwright.documents.workings.workings import shared_rows
from boardwright.spd.need import surge_need
from tests.documents.golden import ROOT, example
from tests.documents.small import small_design

ASKED = {"injury_possible": "no", "large_loss_possible": "no"}
PAGE = (ROOT / "docs" / "withstand.md").read_text(encoding="utf-8")


def _plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def _around(**answers: object) -> Design:
    """Return the small design with other answers on surges, the SPD gone where declined."""
    made = small_design()
    outside = made.job.surge_environment.model_copy(update=answers)
    job = made.job.model_copy(update={"surge_environment": outside})
    made = replace(made, job=job, need=surge_need(job, made.edition))
    if made.need.need.name != "DECLINED":
        return made
    choice = replace(made.chosen.spd, candidate=None)
    return replace(made, variants=(replace(made.chosen, spd=choice),))


DECLINED = ASKED | {"declined_by": "owner"}


def test_the_paper_names_every_device_that_the_surge_passes() -> None:
    text = _plain(spd_duty.build(small_design()))

    assert "MCB C32" in text
    assert re.search(r"Cut-out fuse \d+ A +In 20 kA, 8/20", text)
    assert "Isolate, lock off and prove dead" in text


def test_a_bound_never_stands_without_what_speaks_against_it() -> None:
    words = duty_words(small_design())

    assert words is not None
    assert any(row.bound for row in words.ahead)
    assert "63 A gG fuse 25 kA" in words.bound_note
    assert words.bound_note in " ".join(spd_duty.build(small_design()).split())


def test_the_decline_shows_the_figures_of_the_fitted_spd() -> None:
    fitted, declined = duty_words(_around(**ASKED)), duty_words(_around(**DECLINED))

    assert fitted is not None
    assert declined is not None
    assert declined.often == fitted.often
    assert declined.declined
    assert declined.ahead == ()
    assert all(size in decline.build(_around(**DECLINED)) for size, _ in declined.often)


@pytest.mark.parametrize(
    ("answers", "said", "signed"),
    [
        (DECLINED, "The owner declined in writing", True),
        (ASKED, "Only the owner may decline it, in writing.", True),
        (ASKED | {"declined_by": "tenant"}, "The word of the tenant does not stand", True),
        (DECLINED | {"large_loss_possible": "yes"}, "Not open to declining", False),
        ({"declined_by": "owner", "injury_possible": None}, "ask first whether serious", True),
    ],
)
def test_who_may_sign_the_decline(
    answers: dict[str, object],
    said: str,
    signed: bool,  # noqa: FBT001 - a column of the table above
) -> None:
    text = _plain(decline.build(_around(**answers)))

    assert said in " ".join(text.split())
    assert ("Signature and date" in text) is signed


def test_the_pack_asks_for_a_signature_only_where_it_counts() -> None:
    signed, kept = duty(_around(**DECLINED)), duty(_around(**ASKED))
    unasked = duty(_around(**DECLINED | {"injury_possible": None}))

    assert signed is not None
    assert kept is not None
    assert unasked is not None
    assert (signed["to_sign"], kept["to_sign"], unasked["to_sign"]) == (True, False, False)
    assert kept["decline"] == ""


def test_where_no_spd_suits_there_is_nothing_to_tell() -> None:
    made = small_design()
    choice = replace(made.chosen.spd, candidate=None)
    bare = replace(made, variants=(replace(made.chosen, spd=choice),))

    assert "No SPD suits" in spd_duty.build(bare)
    assert duty(bare) is None


@pytest.mark.slow
def test_the_manual_shows_what_the_paper_prints() -> None:
    text = _plain(spd_duty.build(example("cottage")))
    shown = re.findall(r"```text\n(.*?)```", PAGE, re.DOTALL)

    assert len(shown) == 2
    assert [block for block in shown if block not in text] == []


@pytest.mark.slow
@pytest.mark.parametrize("home", ["semi", "flat", "three-phase"])
def test_both_papers_fit_the_terminal(home: str) -> None:
    lines = [
        line for paper in (spd_duty, decline) for line in paper.build(example(home)).splitlines()
    ]

    assert max(map(len, lines)) <= WIDTH


@pytest.mark.slow
def test_the_strikes_to_the_semis_lines_can_be_done_by_hand() -> None:
    """240 m of LV cable (0.5) and 760 m of HV cable (0.5 · 0.2), suburban 0.5: 98 m; Ng 0.5."""
    row = next(row for row in shared_rows(example("semi")) if row.sign == "NL")

    assert _plain(row.in_figures) == "0.5 · 40 m · 98 m / 10⁶"
    assert _plain(row.value) == "0.00196 /year"
