"""The record of an owner who declines surge protection: what comes, what is given up, who signs."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.design import Design
from boardwright.documents.duty.spd_duty import wear_lines
from boardwright.documents.duty.words import duty_words, is_declined
from boardwright.documents.surge.surge_chart import chosen_places, name
from boardwright.documents.words.figures import number, sentence, source, volts_between
from boardwright.documents.words.plain import heading, paragraph
from boardwright.documents.workings.duty import device_told
from boardwright.spd.need import mandatory, unasked

TITLE = "Declining surge protection"
FILE = "decline.txt"

_LINE = "_" * 44


def build(design: Design) -> str:
    """Return the record, or why nothing can be declined here."""
    words = duty_words(design)
    parts = [heading(f"{TITLE}: {design.job.title}"), paragraph(state(design)), ""]
    if mandatory(design.job.surge_environment) or words is None:
        return "\n".join(parts)
    return "\n".join([*parts, *wear_lines(words), *_equipment(design), *_record(design)])


def state(design: Design) -> str:
    """Say where the matter stands: declined, open to declining, or not."""
    environment = design.job.surge_environment
    duties, missing = mandatory(environment), unasked(environment)
    rule = design.edition.rule("spd.decline_by")
    if duties:
        return (
            f"Not open to declining: {' and '.join(duties)} is possible, so surge protection is a "
            f"duty. {source(design.edition.rule('spd.mandatory_consequences'))}."
        )
    if missing:
        return f"Not to be signed yet: ask first whether {' or '.join(missing)} is possible."
    if is_declined(design):
        return f"{sentence(design.need.basis)} {source(rule)}."
    by = environment.declined_by
    word = f" The word of the {by} does not stand for the owner's." if by else ""
    return (
        f"Surge protection is planned. Only the owner may decline it, in writing.{word} "
        f"{source(rule)}."
    )


def _equipment(design: Design) -> Iterator[str]:
    study = design.chosen.study
    words = "What the equipment would see without it"
    yield f"{words}\n{'─' * len(words)}"
    for place in chosen_places(study):
        bare = place.without_spd_v
        yield paragraph(
            f"{name(place)}: {volts_between(bare.p5_v, bare.p95_v)} for a {study.surge}; such "
            f"equipment is made for {number(place.uw_v)} V."
        )
    yield ""


def _record(design: Design) -> Iterator[str]:
    device = device_told(design)
    price = f" The device would cost £{device.price_gbp:.2f}." if device else ""
    title = "What the owner accepts"
    yield f"{title}\n{'─' * len(title)}"
    yield paragraph(
        "The wiring and all equipment of the home stay without surge protection at the origin. The "
        f"owner has read the figures above and bears that risk.{price}"
    )
    yield ""
    for what in ("Owner, name in capitals", "Signature and date", "Explained by"):
        yield f"{what:<26}{_LINE}"
        yield ""
    yield paragraph("Keep the signed paper with the certificate and list it in its comments.")
