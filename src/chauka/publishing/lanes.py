"""The run sheet as lanes along the minutes to the serving time: hands, burners, vessels, what stands aside. SVG."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from html import escape

from chauka.kitchen import Vessel
from chauka.publishing.style import Style
from chauka.scheduling import Entry, RunSheet

WIDTH = 1000.0
_NAMES = 150.0  # room for the lane's names
_RIGHT = 24.0  # and for half of the last hour
_ROW, _BAR = 46.0, 32.0
_HEAD = 34.0

At = Callable[[datetime], float]


def lanes_svg(sheet: RunSheet, style: Style | None = None, say: Callable[[str], str] = str) -> str:
    """The lanes as one SVG element with title and description; empty where there is no sheet.

    With a `style` it stands alone, for a file or paper; without, the page's own style sheet gives the colours of the
    classes `lanes`, `lane`, `hour`, `bar` and `serve`. `say` turns a lane's name into the language of the reader.
    """
    if not sheet.entries:
        return ""
    rows = lanes(sheet)
    end = max(sheet.serve, *(entry.end for entry in sheet.entries))
    scale = (WIDTH - _NAMES - _RIGHT) / max(1.0, (end - sheet.starts_at).total_seconds())

    def x(at: datetime) -> float:
        return _NAMES + (at - sheet.starts_at).total_seconds() * scale

    height = _HEAD + _ROW * len(rows)
    serve = f'<line class="serve" x1="{x(sheet.serve):.1f}" x2="{x(sheet.serve):.1f}" y1="0" y2="{height:.0f}"/>'
    return "".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="lanes" viewBox="0 0 {WIDTH:.0f} {height:.0f}" role="img" ',
            'aria-labelledby="lanes-title lanes-text"><title id="lanes-title">The evening in lanes</title>',
            f'<desc id="lanes-text">{escape(_in_words(sheet, rows))}</desc>',
            _own_style(style) if style else "",
            _hours(sheet.starts_at, end, x, height),
            *(_row(number, say(name), entries, x) for number, (name, entries) in enumerate(rows.items())),
            f"{serve}</svg>",
        )
    )


def lanes(sheet: RunSheet) -> dict[str, list[Entry]]:
    """The entries by lane: each cook's hands, each burner, each vessel, and what needs none of these."""
    rows: dict[str, list[Entry]] = {}
    by_cook = sorted((e for e in sheet.entries if e.cook), key=lambda e: e.cook or 0)
    for entry in by_cook:
        rows.setdefault("hands" if entry.cook == 1 else f"hands {entry.cook}", []).append(entry)
    for entry in sorted((e for e in sheet.entries if e.burner), key=lambda e: e.burner or 0):
        rows.setdefault(f"burner {entry.burner}", []).append(entry)
    for entry in sorted((e for e in sheet.entries if held_in(e)), key=held_in):
        rows.setdefault(held_in(entry), []).append(entry)
    aside = [e for e in sheet.entries if not (e.cook or e.burner or held_in(e))]
    return rows | ({"aside": aside} if aside else {})


def held_in(entry: Entry) -> str:
    """The vessel that has a lane; of bowls and boxes there are always enough."""
    return "" if entry.vessel is None or entry.vessel.rstrip(" 0123456789") in _PLENTY else entry.vessel


_PLENTY = frozenset({str(Vessel.BOWL), str(Vessel.BOX)})


def _in_words(sheet: RunSheet, rows: dict[str, list[Entry]]) -> str:
    return f"From {sheet.starts_at:%H:%M} to {sheet.serve:%H:%M}: {', '.join(rows)}. The list says the same."


def _row(number: int, name: str, entries: list[Entry], x: At) -> str:
    top = _HEAD + _ROW * number
    return f'<text class="lane" x="0" y="{top + 28:.0f}">{escape(name)}</text>' + "".join(
        _bar(entry, top, x) for entry in entries
    )


def _bar(entry: Entry, top: float, x: At) -> str:
    left, right = x(entry.start), x(entry.end)
    return (
        f'<rect class="bar {entry.attention.value}" x="{left:.1f}" y="{top + 6:.0f}" '
        f'width="{max(2.0, right - left - 1.5):.1f}" height="{_BAR:.0f}" rx="2">'
        f"<title>{escape(entry.line)}</title></rect>"
    )


def _hours(start: datetime, end: datetime, x: At, height: float) -> str:
    step = timedelta(minutes=15 if end - start < timedelta(hours=2) else 30)
    first = start.replace(minute=0, second=0, microsecond=0)
    marks = (first + step * k for k in range(200))
    return "".join(
        f'<line class="hour" x1="{x(mark):.1f}" x2="{x(mark):.1f}" y1="22" y2="{height:.0f}"/>'
        f'<text class="hour" x="{x(mark):.1f}" y="16">{mark:%H:%M}</text>'
        for mark in marks
        if start <= mark <= end
    )


def _own_style(style: Style) -> str:
    return (
        "<style>"
        f".lanes{{background:{style.paper};font-family:{style.serif},serif}}"
        f".lanes text{{fill:{style.faint};font-size:17px}}.lanes .hour{{text-anchor:middle;stroke-width:1}}"
        f".lanes .lane{{font-style:italic;font-size:18px}}.lanes line.hour{{stroke:{style.rule}}}"
        f".lanes .serve{{stroke:{style.ink};stroke-width:2}}.lanes .bar{{fill:{style.accent}}}"
        f".lanes .now-and-then{{fill-opacity:.55}}.lanes .hands-off{{fill:{style.paper};stroke:{style.accent}}}"
        "</style>"
    )
