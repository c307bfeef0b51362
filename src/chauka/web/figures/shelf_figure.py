"""The shelf as a timeline: how long each lot still keeps, from today on, in the order in which to use them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from chauka.services import foods, words
from chauka.services.shelf import ShelfLot

WIDTH, ROW, HEAD, LEFT = 720.0, 30.0, 34.0, 230.0
DAYS = 14
"""How far the line reaches; what keeps longer needs no watching."""

MOST_LOTS = 24
LONGEST_NAME = 24


def shelf_figure(lots: Sequence[ShelfLot], now: datetime) -> SafeString:
    """The lots that end within two weeks; empty where none does."""
    shown = [one for one in lots if one.days_left <= DAYS][:MOST_LOTS]
    if not shown:
        return SafeString("")
    height = HEAD + ROW * len(shown) + 4
    return format_html(
        '<svg class="figure shelf-line" viewBox="0 0 {0} {1}" role="img" aria-labelledby="line-t line-d">'
        '<title id="line-t">{2}</title><desc id="line-d">{3}</desc>{4}{5}</svg>',
        f"{WIDTH:.0f}",
        f"{height:.0f}",
        _("How long the shelf keeps"),
        "; ".join(f"{_name(one)}: {_until(one)}" for one in shown),
        _days(now.date(), height),
        format_html_join("", "{}", ((_bar(number, one),) for number, one in enumerate(shown))),
    )


def _name(one: ShelfLot) -> str:
    return foods.in_language(one.lot.food or "", get_language() or "en", one.name)


def _until(one: ShelfLot) -> str:
    return words.day(one.last_day) if one.use_by.known else _("not known")


def _x(days: float) -> float:
    return LEFT + (WIDTH - LEFT - 8) * max(0.0, min(DAYS, days)) / DAYS


def _days(today: date, height: float) -> SafeString:
    marks = [(n, today + timedelta(days=n)) for n in range(0, DAYS, 2)]
    return format_html_join(
        "",
        '<line class="{}" x1="{}" x2="{}" y1="24" y2="{}"/><text class="mark" x="{}" y="16">{}</text>',
        (
            (
                "today" if n == 0 else "axis",
                f"{_x(n):.1f}",
                f"{_x(n):.1f}",
                f"{height:.0f}",
                f"{_x(n):.1f}",
                _("today") if n == 0 else f"{_(words.DAYS[day.weekday()])} {day.day}",
            )
            for n, day in marks
        ),
    )


def _bar(number: int, one: ShelfLot) -> SafeString:
    y = HEAD + ROW * number
    called = _name(one)
    name = called if len(called) <= LONGEST_NAME else f"{called[: LONGEST_NAME - 1].rstrip()}…"
    kind = "life" if one.use_by.known else "unsure"
    return format_html(
        '<g><title>{}</title><text class="what" x="0" y="{}">{}</text>'
        '<rect class="{}" x="{}" y="{}" width="{}" height="14" rx="2"/></g>',
        f"{called}: {_until(one)}",
        f"{y + 20:.1f}",
        name[:1].upper() + name[1:],
        kind,
        f"{_x(0):.1f}",
        f"{y + 8:.1f}",
        f"{max(4.0, _x(one.days_left) - _x(0)):.1f}",
    )
