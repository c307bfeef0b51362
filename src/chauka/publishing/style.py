"""The style of the house: colours, letters and plate, read from one TOML file without code."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Any

from chauka.errors import Complaints, InputError

HOUSE_STYLE = "almanac"

LEAST_CAP_HEIGHT = 0.035
"""Capitals of a card as a share of the frame's height: 20 lines of 576 (regulator's caption rule; scaling is ours)."""

LEAST_OPACITY = 0.8
"""Below it the plate over white footage gives less contrast than 4.5 : 1 needs, with room to spare; tested."""

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}\Z")
_SIDES = ("left", "right", "centre")


@dataclass(frozen=True, slots=True)
class Plate:
    """What stands between the words of a card and the footage; `opacity` and `radius` are shares."""

    colour: str
    ink: str
    faint: str
    opacity: float
    radius: float


@dataclass(frozen=True, slots=True)
class Style:
    """How things look. Colours are `#rrggbb`, `cap_height` is a share of the frame's height."""

    name: str
    paper: str
    ink: str
    faint: str
    rule: str
    accent: str
    serif: str
    others: tuple[str, ...]
    folder: Path | None
    plate: Plate
    cap_height: float
    lines: int
    side: str

    def __post_init__(self) -> None:
        bad = Complaints(f"style {self.name}")
        for name in ("paper", "ink", "faint", "rule", "accent"):
            _check_colour(bad, name, getattr(self, name))
        for name in ("colour", "ink", "faint"):
            _check_colour(bad, f"plate.{name}", getattr(self.plate, name))
        bad.check(
            LEAST_OPACITY <= self.plate.opacity <= 1,
            "plate.opacity",
            f"{self.plate.opacity:g} must lie between {LEAST_OPACITY} and 1, or the words are lost over bright footage",
        )
        bad.check(0 <= self.plate.radius <= 0.1, "plate.radius", f"{self.plate.radius:g} must lie between 0 and 0.1")
        bad.check(
            LEAST_CAP_HEIGHT <= self.cap_height <= 0.1,
            "card.cap_height",
            f"{self.cap_height:g} must lie between {LEAST_CAP_HEIGHT} (to be read on a phone) and 0.1",
        )
        bad.check(1 <= self.lines <= 10, "card.lines", f"{self.lines} must lie between 1 and 10")
        bad.check(self.side in _SIDES, "card.side", f"{self.side!r} is none of {', '.join(_SIDES)}")
        bad.raise_if_any()


def style(name: str = HOUSE_STYLE, *, season: str | None = None) -> Style:
    """The style of that name, or of the TOML file at that path; `season` chooses another accent of it.

    Raises `InputError` for a file that is missing or damaged, and for a value that would not read.
    """
    if name == HOUSE_STYLE:
        return style_of(files("chauka.publishing").joinpath("styles/almanac.toml").read_text("utf-8"), name, season)
    path = Path(name)
    try:
        text = path.read_text("utf-8")
    except OSError as error:
        raise InputError(
            {"style": (f"{name} cannot be read ({error.strerror}); give {HOUSE_STYLE} or a file",)}
        ) from None
    except UnicodeDecodeError as error:
        raise InputError({f"style {path.name}": (f"is no text in UTF-8: {error}",)}) from None
    return style_of(text, path.name, season)


def style_of(text: str, name: str, season: str | None = None) -> Style:
    """The style that a TOML text describes; `name` is its file. Raises `InputError` as `style` does."""
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError({f"style {name}": (f"is not good TOML: {error}",)}) from None
    return _read(found, season)


def _read(table: dict[str, Any], season: str | None) -> Style:
    try:
        chosen = season or table["season"]
        if chosen not in table["seasons"]:
            raise InputError({"style.season": (f"{chosen!r} is none of {', '.join(table['seasons'])}",)})
        colours, letters, card = table["colours"], table["letters"], table["card"]
        folder = letters.get("folder")
        return Style(
            name=str(table["name"]),
            accent=table["seasons"][chosen],
            **{k: colours[k] for k in ("paper", "ink", "faint", "rule")},
            serif=str(letters["serif"]),
            others=tuple(letters.get("others", ())),
            folder=Path(folder) if folder else None,
            plate=Plate(**table["plate"]),
            cap_height=float(card["cap_height"]),
            lines=int(card["lines"]),
            side=str(card["side"]),
        )
    except KeyError as error:
        raise InputError(
            {"style": (f"{error.args[0]} is missing; see the house style for what is expected",)}
        ) from None
    except (TypeError, ValueError) as error:
        raise InputError({"style": (f"a value is of the wrong kind: {error}",)}) from None


def _check_colour(bad: Complaints, name: str, value: object) -> None:
    bad.check(
        isinstance(value, str) and bool(_COLOUR.match(value)), name, f"{value!r} should be a colour as in #55692a"
    )
