"""The season wheel: a ring of the year with one arc for each food that the calendar lists."""

from __future__ import annotations

import math
from collections.abc import Sequence

from chauka.publishing.style import Style

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_SIZE, _OUTER, _INNER = 400.0, 168.0, 52.0


def wheel_svg(rows: Sequence[tuple[str, frozenset[int]]], style: Style) -> str:
    """The wheel as SVG, its arcs numbered from the outside; names and months stand in the list beside it.

    January begins at the top; `rows` are foods with their months (1–12).
    """
    width = (_OUTER - _INNER) / max(len(rows), 1)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_SIZE:g} {_SIZE:g}" role="img" ',
        f'font-family="{style.serif}" text-anchor="middle"><title>The year and what it brings</title>',
        f'<circle cx="200" cy="200" r="{_OUTER + 6:g}" fill="none" stroke="{style.rule}"/>',
        f'<circle cx="200" cy="200" r="{_INNER - 6:g}" fill="none" stroke="{style.rule}"/>',
    ]
    for month, name in enumerate(MONTHS):
        (x, y), (x1, y1), (x2, y2) = _at(_OUTER + 18, month + 0.5), _at(_INNER - 6, month), _at(_OUTER + 6, month)
        parts.append(f'<path d="M{x1} {y1}L{x2} {y2}" stroke="{style.rule}" stroke-width="0.5"/>')
        parts.append(f'<text x="{x}" y="{y}" dy="4" font-size="12" fill="{style.ink}">{name}</text>')
    for number, (_, months) in enumerate(rows, start=1):
        radius = _OUTER - width * (number - 0.5)
        for first, length in runs(months):
            parts.append(_arc(radius, first - 1, first - 1 + length, width * 0.62, style.accent))
            x, y = _at(radius, first - 1 + min(0.22, length / 2))
            size = min(8.0, width * 0.58)
            parts.append(
                f'<text x="{x}" y="{y}" dy="{size * 0.35:.1f}" font-size="{size:.1f}" font-weight="600" '
                f'fill="{style.paper}">{number}</text>'
            )
    return "".join(parts) + "</svg>"


def runs(months: frozenset[int]) -> list[tuple[int, int]]:
    """Stretches of months as (first month, how many), over the turn of the year: {11, 12, 1} → (11, 3)."""
    if len(months) == 12:
        return [(1, 12)]
    firsts = sorted(m for m in months if (m - 2) % 12 + 1 not in months)
    out = []
    for first in firsts:
        length = 1
        while (first + length - 1) % 12 + 1 in months:
            length += 1
        out.append((first, length))
    return out


def months_text(months: frozenset[int]) -> str:
    """As in "Nov–Mar, Jun"."""
    if len(months) == 12:
        return "all year"
    spans = [(MONTHS[a - 1], MONTHS[(a + n - 2) % 12], n) for a, n in runs(months)]
    return ", ".join(a if n == 1 else f"{a}–{b}" for a, b, n in spans)


def _arc(radius: float, start: float, end: float, width: float, colour: str) -> str:
    if end - start >= 12:
        circle = f'<circle cx="200" cy="200" r="{radius:.1f}" fill="none" stroke="{colour}"'
        return f'{circle} stroke-width="{width:.1f}"/>'
    (x1, y1), (x2, y2) = _at(radius, start + 0.04), _at(radius, end - 0.04)
    large = int(end - start > 6)
    path = f"M{x1} {y1}A{radius:.1f} {radius:.1f} 0 {large} 1 {x2} {y2}"
    return f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{width:.1f}"/>'


def _at(radius: float, month: float) -> tuple[str, str]:
    angle = 2 * math.pi * month / 12 - math.pi / 2
    return f"{200 + radius * math.cos(angle):.1f}", f"{200 + radius * math.sin(angle):.1f}"
