"""The run sheet as lanes: hands, burners, and what waits aside, along the minutes to the serving time."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from chauka.scheduling import Entry, RunSheet

WIDTH = 1000.0
_NAMES = 120.0  # room for the lane's names
_ROW = 46.0
_HEAD = 34.0


def lanes(sheet: RunSheet) -> SafeString:
    """The lanes as one SVG element with title and description; empty where there is no sheet."""
    if not sheet.entries:
        return SafeString("")
    rows = _rows(sheet)
    end = max(sheet.serve, *(e.end for e in sheet.entries))
    scale = (WIDTH - _NAMES) / max(1.0, (end - sheet.starts_at).total_seconds())

    def x(at: datetime) -> float:
        return _NAMES + (at - sheet.starts_at).total_seconds() * scale

    height = _HEAD + _ROW * len(rows)
    drawn = format_html_join("", "{}", ((_row(n, name, entries, x),) for n, (name, entries) in enumerate(rows.items())))
    return format_html(
        '<svg class="lanes" viewBox="0 0 {} {}" role="img" aria-labelledby="lanes-title lanes-text">'
        '<title id="lanes-title">The evening in lanes</title><desc id="lanes-text">{}</desc>{}{}'
        '<line class="serve" x1="{}" x2="{}" y1="0" y2="{}"/></svg>',
        f"{WIDTH:.0f}",
        f"{height:.0f}",
        _in_words(sheet, rows),
        _hours(sheet.starts_at, end, x, height),
        drawn,
        *(f"{x(sheet.serve):.1f}",) * 2,
        f"{height:.0f}",
    )


def _rows(sheet: RunSheet) -> dict[str, list[Entry]]:
    rows: dict[str, list[Entry]] = {}
    for entry in sheet.entries:
        if entry.cook:
            rows.setdefault("hands" if entry.cook == 1 else f"hands {entry.cook}", []).append(entry)
    for entry in sorted((e for e in sheet.entries if e.burner), key=lambda e: e.burner or 0):
        rows.setdefault(f"burner {entry.burner}", []).append(entry)
    aside = [e for e in sheet.entries if not e.cook and not e.burner]
    if aside:
        rows["aside"] = aside
    return rows


def _in_words(sheet: RunSheet, rows: dict[str, list[Entry]]) -> str:
    return f"From {sheet.starts_at:%H:%M} to {sheet.serve:%H:%M}: {', '.join(rows)}. The list below says the same."


def _row(number: int, name: str, entries: list[Entry], x: Callable[[datetime], float]) -> SafeString:
    top = _HEAD + _ROW * number
    bars = format_html_join("", "{}", ((_bar(e, top, x),) for e in entries))
    return format_html('<text class="lane" x="0" y="{}">{}</text>{}', f"{top + 28:.0f}", name, bars)


def _bar(entry: Entry, top: float, x: Callable[[datetime], float]) -> SafeString:
    left, right = x(entry.start), x(entry.end)
    return format_html(
        '<rect class="bar {}" x="{}" y="{}" width="{}" height="32" rx="2"><title>{}</title></rect>',
        entry.attention.value,
        f"{left:.1f}",
        f"{top + 6:.0f}",
        f"{max(2.0, right - left - 1.5):.1f}",
        entry.line,
    )


def _hours(start: datetime, end: datetime, x: Callable[[datetime], float], height: float) -> SafeString:
    step = timedelta(minutes=15 if end - start < timedelta(hours=2) else 30)
    first = start.replace(minute=0, second=0, microsecond=0)
    marks = [first + step * k for k in range(200) if start <= first + step * k <= end]
    return format_html_join(
        "",
        '<line class="hour" x1="{0}" x2="{0}" y1="22" y2="{1}"/><text class="hour" x="{0}" y="16">{2}</text>',
        ((f"{x(m):.1f}", f"{height:.0f}", f"{m:%H:%M}") for m in marks),
    )
