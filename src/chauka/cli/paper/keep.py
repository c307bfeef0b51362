"""One answer to "how long does it keep" on paper."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.cli.paper.layout import INDENT, paragraph
from chauka.keeping.caution import LOCAL
from chauka.keeping.life import days_said
from chauka.services import words
from chauka.services.keep import Answer


def answer(one: Answer, *, why: bool = False) -> Iterator[str]:
    """The date, the rule that bound it and its source; with `why` also the reason, the range and the cautions."""
    at, lot = one.use_by.at, one.lot
    left = days_said((at - lot.since).total_seconds() / 86_400)
    careful = "" if one.use_by.known else ", life not known"
    where = f"in the {lot.place} at {one.temp_c:g} °C since {words.day(lot.since.date())}"
    yield from paragraph(f"{one.name}, {where}: use by {words.moment(at)} ({left}{careful}).", indent="", hang=INDENT)
    yield from paragraph(f"Bound by: {one.use_by.rule}.", hang=INDENT * 2)
    yield from paragraph(f"Source: {one.use_by.source}.", hang=INDENT * 2)
    if why:
        yield from _why(one)


def _why(one: Answer) -> Iterator[str]:
    low, mid, high = (days_said(d) for d in (one.use_by.low_days, one.use_by.mid_days, one.use_by.high_days))
    yield from paragraph(f"Why: {one.use_by.reason}.", hang=INDENT * 2)
    yield from paragraph(f"Range: {low} to {high}, in the middle {mid}; planned with the careful end.", hang=INDENT * 2)
    yield from paragraph(f"Last day to plan it: {words.day(one.last_day)}.")
    if one.learnt is not None:
        yield from paragraph(
            f"Learnt here: it keeps × {one.learnt.factor:.2f} as long, from {words.count(one.learnt.lots, 'lot')} "
            f"(`chauka shelf forget` resets it); no rule or limit moves with it.",
            hang=INDENT * 2,
        )
    if one.buy:
        yield from paragraph(one.buy, hang=INDENT * 2)
    for text in one.use_by.cautions:
        yield from paragraph(f"! {text}", hang=INDENT * 2)
    for caution in one.cautions:
        yield from paragraph(f"! {caution.text} {caution.why} ({caution.source})", hang=INDENT * 2)
    if one.cautions:
        yield from paragraph(f"! {LOCAL}", hang=INDENT * 2)
