"""Cards as pictures: PNG with transparency and SVG, inside the title-safe area, legible on a phone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any

from fontTools.ttLib import TTFont

from chauka.errors import InputError
from chauka.publishing import press
from chauka.publishing.cards import Card
from chauka.publishing.style import Style

TITLE_SAFE = 0.90
"""Share of width and height in which words may stand: SMPTE ST 2046-1 (2009), EBU R 95 (from memory)."""


@dataclass(frozen=True, slots=True)
class FrameSize:
    """Pixels of a frame, and the drawing that it is a scaling of."""

    width: int
    height: int
    scale: int = 1

    @property
    def name(self) -> str:
        """As in 1920x1080."""
        return f"{self.width}x{self.height}"


class Frame(Enum):
    """Frames that cards are made for."""

    HD = FrameSize(1920, 1080)
    UHD = FrameSize(3840, 2160, scale=2)
    TALL = FrameSize(1080, 1920)


def card_pngs(cards: Sequence[Card], frame: Frame, style: Style) -> list[bytes]:
    """One picture a card, transparent around its plate."""
    return _one_each(cards, press.pngs("cards", _data(cards, frame, style), style, ppi=72 * frame.value.scale))


def card_svgs(cards: Sequence[Card], frame: Frame, style: Style) -> list[bytes]:
    """One drawing a card, with its words as title for those who do not see it; scales to any size of its shape."""
    drawn = _one_each(cards, press.svgs("cards", _data(cards, frame, style), style))
    return [_titled(svg, card.alt) for svg, card in zip(drawn, cards, strict=True)]


def _one_each(cards: Sequence[Card], pages: list[bytes]) -> list[bytes]:
    if len(pages) != len(cards):
        raise InputError({"card": ("one of the texts is too long for a card; shorten the dish's name or its lines",)})
    return pages


def _data(cards: Sequence[Card], frame: Frame, style: Style) -> dict[str, Any]:
    size = frame.value
    width, height = size.width // size.scale, size.height // size.scale
    letter = style.cap_height * min(width, height) / cap_share(style)
    return {
        "width": width,
        "height": height,
        "safe": TITLE_SAFE,
        "letter": letter,
        "side": style.side,
        "plate": {
            "colour": style.plate.colour, "ink": style.plate.ink, "faint": style.plate.faint,
            "opacity": style.plate.opacity, "radius": style.plate.radius * min(width, height),
        },
        "cards": [
            {"kind": str(c.kind), "head": c.head, "rows": [list(r) for r in c.rows], "text": c.text, "foot": c.foot}
            for c in cards
        ],
    }  # fmt: skip


def cap_share(style: Style) -> float:
    """Height of the serif's capitals as a share of its size."""
    return _cap_share(style.serif, press.font_files(style))


@cache
def _cap_share(family: str, fonts: tuple[tuple[str, str, int], ...]) -> float:
    for name, path, index in fonts:
        if name == family:
            with TTFont(path, fontNumber=index, lazy=True) as font:
                return float(font["OS/2"].sCapHeight / font["head"].unitsPerEm)
    raise InputError(
        {"style.letters.serif": (f"there is no font {family!r}; have {', '.join({f[0] for f in fonts})}",)}
    )


def _titled(svg: bytes, alt: str) -> bytes:
    """The drawing with its words as `title`, escaped."""
    words = alt.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    words = press.clean(words)
    at = svg.index(b">") + 1
    return svg[: at - 1] + b' role="img">' + f"<title>{words}</title>".encode() + svg[at:]


def file_name(card: Card, suffix: str) -> str:
    """The card's file name."""
    return str(Path(card.id).with_suffix(suffix))
