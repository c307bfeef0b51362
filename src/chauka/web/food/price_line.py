"""Prices really paid over time, as one line of points; the price of a kilogram stands at the left."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from chauka.kitchen import PriceSeen
from chauka.services import words

WIDTH, HEIGHT, LEFT, FOOT = 640.0, 200.0, 96.0, 34.0
FEWEST = 2
"""A single price makes no line."""


def price_line(prices: Sequence[PriceSeen], currency: str) -> SafeString:
    """The line with title and description; empty where fewer than two prices were paid."""
    paid = [p for p in prices if p.grams > 0 and p.price > 0]
    if len(paid) < FEWEST:
        return SafeString("")
    per_kg = [1000 * p.price / p.grams for p in paid]
    first, last = paid[0].on, paid[-1].on
    top, days = max(per_kg) * 1.1, max(1, (last - first).days)

    def at(number: int) -> tuple[str, str]:
        x = LEFT + (WIDTH - LEFT - 12) * (paid[number].on - first).days / days
        return f"{x:.1f}", f"{(HEIGHT - FOOT) * (1 - per_kg[number] / top):.1f}"

    points = [at(number) for number in range(len(paid))]
    said = [
        _("%(money)s on %(day)s") % {"money": words.money(p, currency, whole_units=True), "day": words.day(s.on)}
        for p, s in zip(per_kg, paid, strict=True)
    ]
    return format_html(
        '<svg class="prices" viewBox="0 0 {} {}" role="img" aria-labelledby="prices-title prices-text">'
        '<title id="prices-title">{}</title><desc id="prices-text">{}</desc>'
        '<line class="axis" x1="{}" x2="{}" y1="{}" y2="{}"/>{}<polyline points="{}"/>{}{}</svg>',
        f"{WIDTH:.0f}",
        f"{HEIGHT:.0f}",
        _("What a kilogram cost"),
        "; ".join(said),
        *(f"{v:.0f}" for v in (LEFT, WIDTH, HEIGHT - FOOT, HEIGHT - FOOT)),
        format_html_join(
            "",
            '<text class="money" x="{}" y="{}">{}</text>',
            (
                (
                    f"{LEFT - 10:.0f}",
                    f"{(HEIGHT - FOOT) * (1 - value / top) + 6:.0f}",
                    words.money(value, currency, whole_units=True),
                )
                for value in dict.fromkeys((max(per_kg), min(per_kg)))
            ),
        ),
        " ".join(f"{x},{y}" for x, y in points),
        format_html_join(
            "",
            '<circle cx="{}" cy="{}" r="5"><title>{}</title></circle>',
            ((*p, s) for p, s in zip(points, said, strict=True)),
        ),
        format_html(
            '<text x="{}" y="{}">{}</text><text class="end" x="{}" y="{}">{}</text>',
            f"{LEFT:.0f}",
            f"{HEIGHT - 8:.0f}",
            words.day(first),
            f"{WIDTH:.0f}",
            f"{HEIGHT - 8:.0f}",
            words.day(last),
        ),
    )
