"""What hangs in the kitchen, as PDF: market list, bench list, run sheet, box labels."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date, datetime
from enum import StrEnum
from itertools import groupby

from chauka.kitchen import TablePlan
from chauka.kitchen.stock import stall_order
from chauka.publishing import press
from chauka.publishing.press import Sheet
from chauka.publishing.style import Style, style
from chauka.scheduling import BenchList, BoxLabel, RunSheet
from chauka.scheduling.sheet import spoken_minutes


@dataclass(frozen=True, slots=True)
class Row:
    """One thing to do or to buy: a time or a box before it, an amount behind it, a quiet line under it."""

    text: str
    amount: str = ""
    note: str = ""
    lead: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Rows under one head."""

    head: str
    rows: tuple[Row, ...]
    note: str = ""


def list_pdf(
    title: str, groups: Sequence[Group], *, sub: str = "", foot: str = "", timed: bool = False,
    paper: Sheet = Sheet.A4, columns: int = 1, size_pt: float = 11.5, look: Style | None = None,
) -> bytes:  # fmt: skip
    """Groups of rows; `timed` puts each row's time before it instead of a box to tick."""
    data = {
        "paper": str(paper), "columns": columns, "size": size_pt, "sub": sub, "foot": foot or title, "timed": timed,
        "groups": [
            {
                "head": g.head, "note": g.note,
                "rows": [{"text": r.text, "amount": r.amount, "note": r.note, "lead": r.lead} for r in g.rows],
            }
            for g in groups
        ],
    }  # fmt: skip
    return press.pdf("list", data, look or style(), title=title)


def market_pdf(plan: TablePlan, dishes: Mapping[str, str], *, look: Style | None = None) -> bytes:
    """What to buy, by day and stall, in packs, and for which dishes; `dishes` gives names by id."""
    batches = {b.id: b for b in plan.batches}
    groups = []
    bought = sorted(plan.purchases, key=lambda p: (p.day, stall_order(p.stall), p.pack))
    for (day, stall), of_it in groupby(bought, lambda p: (p.day, p.stall)):
        rows = tuple(
            Row(
                p.pack,
                f"{p.packs} ×",
                ", ".join(dict.fromkeys(dishes.get(batches[k].dish, "") for k in p.feeds if k in batches)),
            )
            for p in of_it
        )
        groups.append(Group(f"{_day(day)}: {stall}", rows))
    return list_pdf("Market list", groups, sub=_week(plan.start, plan.days), columns=2, size_pt=10.5, look=look)


def bench_pdf(bench: BenchList, *, look: Style | None = None) -> bytes:
    """Work ahead by day, each with its time."""
    groups = []
    for day, entries in groupby(bench, lambda e: e.start.date()):
        rows = tuple(
            Row(
                _sentence(e.text),
                spoken_minutes(e.hands_min) if e.hands_min else "",
                f"until {e.done_by:%a %H:%M}" if e.minutes > e.hands_min + 30 else e.why,
                f"{e.start:%H:%M}",
            )
            for e in entries
        )
        groups.append(Group(_day(day), rows))
    return list_pdf("Bench list", groups, sub=_week(bench.start, bench.days), timed=True, look=look)


def run_sheet_pdf(sheet: RunSheet, title: str, *, look: Style | None = None) -> bytes:
    """One cooking session, line by line."""
    rows = tuple(
        Row(
            _sentence(e.text) + (f" Until {e.until}." if e.until else ""),
            spoken_minutes(e.minutes),
            " · ".join(x for x in (e.where, ", ".join(map(str, e.amounts))) if x),
            f"{e.start:%H:%M}",
        )
        for e in sheet
    )
    sub = f"Begin at {sheet.starts_at:%H:%M}, on the table at {sheet.serve:%H:%M}"
    groups = [Group(_day(sheet.serve.date()), rows, ", ".join(name for _, name in sheet.names))]
    return list_pdf(title, groups, sub=sub, timed=True, look=look)


class LabelSize(StrEnum):
    """Label sheets of A4: three across of 70 × 37 mm, or two across of 105 × 74 mm to be read from afar."""

    SMALL = "small"
    LARGE = "large"


@dataclass(frozen=True, slots=True)
class Face:
    """What stands on one label, from its name down to the quietest line."""

    name: str
    what: str
    until: str
    packed: str
    dishes: str = ""


def labels_pdf(labels: Sequence[BoxLabel], dishes: Mapping[str, str], *, look: Style | None = None) -> bytes:
    """Box labels of 70 × 37 mm, three across: what, how much, packed when, good until when, for which dish."""
    faces = [
        Face(
            name=label.name,
            what=" · ".join(x for x in (str(label.form), f"{label.grams:.0f} g" if label.grams else "") if x),
            until=until(label.use_by),
            packed=f"packed {_day(label.packed)}",
            dishes=", ".join(dishes.get(d, d) for d in label.for_dishes),
        )
        for label in labels
    ]
    return faces_pdf(faces, title="Box labels", look=look)


def faces_pdf(
    faces: Sequence[Face], *, title: str, size: LabelSize = LabelSize.SMALL, look: Style | None = None
) -> bytes:
    """Labels of any faces, on sheets of one size."""
    plain = [{**asdict(f), "name": f.name[:1].upper() + f.name[1:]} for f in faces]
    return press.pdf("labels", {"labels": plain, "large": size is LabelSize.LARGE}, look or style(), title=title)


def _sentence(text: str) -> str:
    """With a capital and a stop."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text[-1:] in ".!?" else ".")


def until(use_by: datetime | None) -> str:
    """Good until when, as a label says it."""
    return f"use by {use_by:%a} {use_by.day} {use_by:%B}" if use_by else "no date known: look and smell"


def _day(on: date) -> str:
    return f"{on:%A} {on.day} {on:%B}"


def _week(start: date, days: int) -> str:
    return f"{days} days from {_day(start)}"
