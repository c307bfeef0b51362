"""What one person gets of each nutrient against the reference: a dot with its spread, from nothing to twice."""

from __future__ import annotations

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from chauka.services.intake import NutrientIntake, PersonIntake

WIDTH, ROW, HEAD, LEFT = 440.0, 30.0, 34.0, 150.0
MOST = 2.0
"""Shares above this stand at the end of the line; nobody needs to tell three times from four times."""


def intake_figure(person: PersonIntake) -> SafeString:
    """The figure of one person; empty where no nutrient has a reference."""
    rows = [one for one in person.nutrients if one.share is not None]
    if not rows:
        return SafeString("")
    height = HEAD + ROW * len(rows) + 6
    return format_html(
        '<svg class="figure intake" viewBox="0 0 {0} {1}" role="img" aria-labelledby="in-{2}-t in-{2}-d">'
        '<title id="in-{2}-t">{3}</title><desc id="in-{2}-d">{4}</desc>{5}{6}</svg>',
        f"{WIDTH:.0f}",
        f"{height:.0f}",
        person.person,
        _("What %(name)s gets, a day") % {"name": person.name},
        "; ".join(_said(one) for one in rows),
        _scale(height),
        format_html_join("", "{}", ((_row(number, one),) for number, one in enumerate(rows))),
    )


def _x(share: float) -> float:
    return LEFT + (WIDTH - LEFT - 14) * min(MOST, max(0.0, share)) / MOST


def _said(one: NutrientIntake) -> str:
    share = one.share or 0.0
    least = _("at least ") if one.at_least else ""
    return f"{_(one.name)} {least}{100 * share:.0f} %" + (f" ± {100 * one.spread:.0f} %" if one.spread else "")


def _scale(height: float) -> SafeString:
    marks = ((0.0, "0"), (1.0, _("reference")), (2.0, "200 %"))
    return format_html_join(
        "",
        '<line class="{}" x1="{}" x2="{}" y1="24" y2="{}"/><text class="mark {}" x="{}" y="16">{}</text>',
        (
            (
                "wanted" if share == 1.0 else "axis",
                f"{_x(share):.1f}",
                f"{_x(share):.1f}",
                f"{height:.0f}",
                "end" if share == MOST else "",
                f"{_x(share):.1f}",
                label,
            )
            for share, label in marks
        ),
    )


def _row(number: int, one: NutrientIntake) -> SafeString:
    y = HEAD + ROW * number + ROW / 2
    share, spread = one.share or 0.0, one.spread or 0.0
    kind = "open" if one.at_least else ""
    called = _(one.name)
    name = called[:1].upper() + called[1:] + (" ≤" if one.ceiling else "")
    beyond = format_html('<path class="beyond" d="M{0} {1}l8 5-8 5z"/>', f"{WIDTH - 10:.0f}", f"{y - 5:.1f}")
    return format_html(
        '<text class="what" x="0" y="{}">{}</text><line class="spread" x1="{}" x2="{}" y1="{}" y2="{}"/>'
        '<circle class="{}" cx="{}" cy="{}" r="6"/>{}',
        f"{y + 5:.1f}",
        name,
        f"{_x(share - spread):.1f}",
        f"{_x(share + spread):.1f}",
        f"{y:.1f}",
        f"{y:.1f}",
        kind,
        f"{_x(share):.1f}",
        f"{y:.1f}",
        beyond if share > MOST else "",
    )
