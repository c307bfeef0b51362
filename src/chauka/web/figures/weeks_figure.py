"""Money and waste by week: a bar for what was paid, an outlined one within it for what went into the bin."""

from __future__ import annotations

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from chauka.services import words
from chauka.services.weeks import Week, Weeks

WIDTH, HEIGHT, LEFT, FOOT, HEAD = 720.0, 260.0, 92.0, 34.0, 16.0


def weeks_figure(seen: Weeks) -> SafeString:
    """The figure with title and description; empty where nothing was bought or binned."""
    if not seen.any:
        return SafeString("")
    top = max(1, *(max(week.paid, week.binned_cost) for week in seen.weeks), seen.budget or 0) * 1.08
    step = (WIDTH - LEFT) / len(seen.weeks)

    def y(coins: float) -> float:
        return HEAD + (HEIGHT - FOOT - HEAD) * (1 - max(0.0, coins) / top)

    bars = format_html_join(
        "",
        '<g><title>{}</title>{}{}</g><text class="mark" x="{}" y="{}">{}</text>',
        (
            (
                _said(week, seen.currency),
                _bar("paid", LEFT + step * (n + 0.18), step * 0.4, y(week.paid)),
                _bar("binned", LEFT + step * (n + 0.62), step * 0.2, y(week.binned_cost)),
                f"{LEFT + step * (n + 0.5):.1f}",
                f"{HEIGHT - 10:.0f}",
                _label(n, week),
            )
            for n, week in enumerate(seen.weeks)
        ),
    )
    return format_html(
        '<svg class="figure weeks" viewBox="0 0 {0:} {1:}" role="img" aria-labelledby="weeks-t weeks-d">'
        '<title id="weeks-t">{2:}</title><desc id="weeks-d">{3:}</desc>'
        '<line class="axis" x1="{4:}" x2="{0:}" y1="{5:}" y2="{5:}"/>{6:}{7:}</svg>',
        f"{WIDTH:.0f}",
        f"{HEIGHT:.0f}",
        _("Money and waste by week"),
        "; ".join(_said(week, seen.currency) for week in seen.weeks if week.paid or week.binned_g),
        f"{LEFT:.0f}",
        f"{HEIGHT - FOOT:.0f}",
        bars,
        _budget(seen, y(seen.budget or 0)),
    )


def _said(week: Week, currency: str) -> str:
    return _("week of %(day)s: %(paid)s paid, %(binned)s in the bin") % {
        "day": words.day(week.monday),
        "paid": words.money(week.paid, currency, whole_units=True),
        "binned": words.weight(week.binned_g),
    }


def _label(number: int, week: Week) -> str:
    """Every second week is named: twelve names would run into each other."""
    return f"{week.monday.day} {_(words.MONTHS[week.monday.month - 1])}" if number % 2 == 1 else ""


def _bar(kind: str, left: float, width: float, top: float) -> SafeString:
    return format_html(
        '<rect class="{}" x="{}" y="{}" width="{}" height="{}"/>',
        kind,
        f"{left:.1f}",
        f"{top:.1f}",
        f"{width:.1f}",
        f"{HEIGHT - FOOT - top:.1f}",
    )


def _budget(seen: Weeks, y: float) -> SafeString:
    if not seen.budget:
        return SafeString("")
    return format_html(
        '<line class="wanted" x1="{}" x2="{}" y1="{}" y2="{}"/><text class="quiet end" x="{}" y="{}">{}</text>',
        f"{LEFT:.0f}",
        f"{WIDTH:.0f}",
        f"{y:.1f}",
        f"{y:.1f}",
        f"{LEFT - 8:.0f}",
        f"{y + 5:.1f}",
        words.money(seen.budget, seen.currency, whole_units=True),
    )
