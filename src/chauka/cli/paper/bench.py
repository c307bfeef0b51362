"""The bench list and its box labels on paper."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from chauka.cli.paper.layout import INDENT, columns, heading, listing, noted, paragraph
from chauka.services import words
from chauka.services.bench import BenchEntry, BenchView, BoxLabel


def view(seen: BenchView) -> Iterator[str]:
    """Work ahead by day, then the labels of the boxes that it fills."""
    bench = seen.bench
    yield from heading("Bench: what to do ahead", words.count(len(bench.entries), "task"))
    if not bench.entries:
        yield from paragraph("Nothing needs doing ahead.")
    for day, entries in groupby(bench.entries, lambda e: e.start.date()):
        yield words.day(day)
        yield from columns((_entry(e) for e in entries), "lrl")
    if bench.labels:
        yield ""
        yield f"{INDENT}Box labels"
        yield from noted(((_label(one), _why(one)) for one in bench.labels), "lrll", INDENT * 2)


def _entry(entry: BenchEntry) -> tuple[str, ...]:
    text = entry.text[:1].upper() + entry.text[1:]
    if entry.minutes > entry.hands_min + 1:
        text += f"; ready by {words.moment(entry.done_by)}"
    if entry.why:
        text += f" – {entry.why}"
    if entry.overdue:
        text = f"Should have begun already: {text}"
    return (f"{entry.start:%H:%M}", f"{max(1, round(entry.hands_min))} min" if entry.hands_min else "waits", text)


def _label(label: BoxLabel) -> tuple[str, ...]:
    return (
        f"{label.name}, {label.form}",
        "weigh it" if label.grams is None else words.weight(label.grams),
        f"packed {words.day(label.packed)}",
        f"use by {words.moment(label.use_by)}" if label.use_by else "use-by not known",
    )


def _why(label: BoxLabel) -> str:
    return f"{f'For {listing(label.for_dishes)}. ' if label.for_dishes else ''}{label.why}"
