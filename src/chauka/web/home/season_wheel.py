"""The season wheel: a ring of the year with today at the top, drawn as SVG.

Each item is an arc over the months in which the market has it. Arcs are packed into as few tracks
as fit; an arc at its best is full, one that is coming or leaving is thin, one out of season a
hairline. State is carried by weight and place, not by hue, so it survives print and every eye.
"""

from __future__ import annotations

import calendar
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
SIZE = 840
_CENTRE = SIZE / 2
_RIM = 392.0  # radius of the month names
_OUTER = 360.0  # radius of the first track
_INNER = 120.0  # nothing is drawn inside
_WIDEST_TRACK = 30.0
_LETTER = 11.0  # mean width of a letter of a label, with some air
_WEIGHT = {"best": 0.82, "coming": 0.42, "leaving": 0.42, "out": 0.1}


@dataclass(frozen=True, slots=True)
class WheelItem:
    """One item of the ring: its months (1–12), its state today ("best", "coming", "leaving", "out"), its page."""

    name: str
    months: frozenset[int]
    state: str
    url: str = ""


@dataclass(frozen=True, slots=True)
class Arc:
    """A run of months without a gap, from `start` (0 = 1 January) over `length` months, on a track."""

    item: WheelItem
    start: int
    length: int
    track: int


def season_wheel(items: Sequence[WheelItem], today: date) -> SafeString:
    """The wheel as one SVG element with a title and a description."""
    arcs = pack(items)
    tracks = max((a.track for a in arcs), default=0) + 1
    width = min(_WIDEST_TRACK, (_OUTER - _INNER) / tracks)
    turn = -_year_share(today) * 360
    return format_html(
        '<svg class="wheel" viewBox="0 0 {0} {0}" role="img" aria-labelledby="wheel-title wheel-text">'
        '<title id="wheel-title">{5}</title><desc id="wheel-text">{1}</desc>{2}{3}{4}</svg>',
        SIZE,
        describe(items),
        _rim(turn),
        format_html_join("", "{}", ((_drawn(a, n, width, turn),) for n, a in enumerate(arcs))),
        _today(today),
        _("The season wheel"),
    )


def describe(items: Iterable[WheelItem]) -> str:
    """The wheel in words."""
    listed = list(items)

    def names(state: str) -> str:
        return ", ".join(i.name for i in listed if i.state == state) or _("nothing")

    states = {state: names(state) for state in ("best", "coming", "leaving")}
    return _("At its best: %(best)s. Coming: %(coming)s. Leaving: %(leaving)s.") % states


def pack(items: Sequence[WheelItem]) -> list[Arc]:
    """Arcs on the lowest free track each; what is at its best lies outermost."""
    order = {"best": 0, "leaving": 1, "coming": 2, "out": 3}
    busy: list[set[int]] = []
    arcs = []
    for item in sorted(items, key=lambda i: (order.get(i.state, 3), -len(i.months), i.name)):
        for start, length in _runs(item.months):
            covers = {(start + k) % 12 for k in range(length)}
            track = next((n for n, taken in enumerate(busy) if not taken & covers), len(busy))
            if track == len(busy):
                busy.append(set())
            busy[track] |= covers
            arcs.append(Arc(item, start, length, track))
    return arcs


def _runs(months: frozenset[int]) -> list[tuple[int, int]]:
    """Runs of neighbouring months as (start 0–11, length), running over the turn of the year."""
    if len(months) == 12:
        return [(0, 12)]
    starts = [m for m in sorted(months) if (m - 2) % 12 + 1 not in months]
    runs = []
    for start in starts:
        length = next(k for k in range(1, 13) if (start - 1 + k) % 12 + 1 not in months)
        runs.append((start - 1, length))
    return runs


def _year_share(day: date) -> float:
    return (day.timetuple().tm_yday - 1) / 365.25


def _at(radius: float, degrees: float) -> tuple[float, float]:
    """The point on a circle; 0° is the top, clockwise."""
    angle = math.radians(degrees - 90)
    return _CENTRE + radius * math.cos(angle), _CENTRE + radius * math.sin(angle)


def _path(radius: float, start: float, end: float, *, flipped: bool) -> str:
    """An arc from `start` to `end` degrees; `flipped` runs it anticlockwise, for text that stands upright below."""
    end = min(end, start + 359.9)
    a, b = (end, start) if flipped else (start, end)
    (x0, y0), (x1, y1) = _at(radius, a), _at(radius, b)
    way = f"{int(end - start > 180)} {int(not flipped)}"
    return f"M{x0:.1f} {y0:.1f}A{radius:.1f} {radius:.1f} 0 {way} {x1:.1f} {y1:.1f}"


def _rim(turn: float) -> SafeString:
    def month(number: int) -> SafeString:
        x, y = _at(_RIM, number * 30 + 15 + turn)
        (x0, y0), (x1, y1) = _at(_INNER, number * 30 + turn), _at(_OUTER + 6, number * 30 + turn)
        return format_html(
            '<line class="spoke" x1="{}" y1="{}" x2="{}" y2="{}"/><text class="month" x="{}" y="{}">{}</text>',
            *(f"{v:.1f}" for v in (x0, y0, x1, y1, x, y)),
            _(MONTHS[number]),
        )

    return format_html_join("", "{}", ((month(n),) for n in range(12)))


def _drawn(arc: Arc, number: int, width: float, turn: float) -> SafeString:
    radius = _OUTER - width * (arc.track + 0.5)
    start, end = arc.start * 30 + turn + 1, (arc.start + arc.length) * 30 + turn - 1
    needs = math.degrees(_LETTER * len(arc.item.name) / radius)
    middle = _label_middle(start, end, needs)
    flipped = 90 < middle % 360 < 270
    label = SafeString("")
    if arc.item.state != "out" and end - start > needs:
        share = (middle - start) / (end - start)
        label = format_html(
            '<text class="label {}" dy="0.34em"><textPath href="#arc-{}" startOffset="{}%">{}</textPath></text>',
            arc.item.state,
            number,
            round(100 * (1 - share if flipped else share)),
            arc.item.name,
        )
    return format_html(
        '<path id="arc-{}" class="arc {}" d="{}" stroke-width="{}" data-href="{}"><title>{}</title></path>{}',
        number,
        arc.item.state,
        _path(radius, start, end, flipped=flipped),
        f"{width * _WEIGHT[arc.item.state]:.1f}",
        arc.item.url,
        arc.item.name,
        label,
    )


def _label_middle(start: float, end: float, needs: float) -> float:
    """The angle at which a label stands: as near to today (the top) as it fits on its arc."""

    def from_top(degrees: float) -> float:
        return abs((degrees + 180) % 360 - 180)

    today = next((t for t in (0.0, 360.0, -360.0) if start <= t <= end), None)
    near = min(start, end, key=from_top) if today is None else today
    return min(max(near, start + needs / 2), end - needs / 2)


def _today(today: date) -> SafeString:
    return format_html(
        '<path class="now" d="M{5} 30h20l-10 18z"/>'
        '<text class="day" x="{0}" y="{1}">{2}</text><text class="day-month" x="{0}" y="{3}">{4}</text>',
        f"{_CENTRE:.0f}",
        f"{_CENTRE + 22:.0f}",
        today.day,
        f"{_CENTRE + 62:.0f}",
        _(calendar.month_name[today.month]),
        f"{_CENTRE - 10:.0f}",
    )
