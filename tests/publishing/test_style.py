"""The style of the house."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from chauka.errors import InputError
from chauka.publishing import style

HOUSE = files("chauka.publishing").joinpath("styles/almanac.toml").read_text("utf-8")


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb` (WCAG 2.2, definition; from memory)."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    """Contrast ratio of two colours."""
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def over(plate: str, footage: str, opacity: float) -> str:
    """The colour of a plate that lets some footage through."""
    mixed = [
        round(int(plate[i : i + 2], 16) * opacity + int(footage[i : i + 2], 16) * (1 - opacity)) for i in (1, 3, 5)
    ]
    return "#" + "".join(f"{c:02x}" for c in mixed)


@pytest.mark.parametrize("season", ["spring", "summer", "rains", "autumn", "winter"])
def test_words_stand_out_on_paper(season: str) -> None:
    """Ink, quiet ink and every season's accent reach 4.5 : 1 on the paper (WCAG 2.2, 1.4.3)."""
    look = style(season=season)
    assert all(contrast(c, look.paper) >= 4.5 for c in (look.ink, look.faint, look.accent))


@pytest.mark.parametrize("footage", ["#ffffff", "#000000", "#ff0000", "#00ff00", "#ffff00"])
def test_words_stand_out_over_any_footage(footage: str) -> None:
    """Through the plate, over white, black or glaring footage, card words reach 4.5 : 1."""
    plate = style().plate
    ground = over(plate.colour, footage, plate.opacity)
    assert contrast(plate.ink, ground) >= 4.5
    assert contrast(plate.faint, ground) >= 4.5


def _changed(tmp_path: Path, was: str, now: str) -> str:
    assert was in HOUSE
    file = tmp_path / "mine.toml"
    file.write_text(HOUSE.replace(was, now), "utf-8")
    return str(file)


def test_a_style_of_ones_own(tmp_path: Path) -> None:
    """A copied file with another colour is a style."""
    assert style(_changed(tmp_path, "#2b2620", "#112233")).ink == "#112233"


@pytest.mark.parametrize(
    ("was", "now", "complaint"),
    [
        ('ink = "#2b2620"', 'ink = "black"', "colour as in"),
        ("opacity = 0.86", "opacity = 0.4", "bright footage"),
        ("cap_height = 0.036", "cap_height = 0.01", "phone"),
        ('side = "left"', 'side = "top"', "none of left"),
        ("lines = 6", "lines = 0", "between 1 and 10"),
        ("[card]", "[cards]", "card is missing"),
        ("lines = 6", "lines = six", "not good TOML"),
        ('season = "spring"', 'season = "monsoon"', "none of spring"),
    ],
)
def test_what_would_not_read_is_refused(tmp_path: Path, was: str, now: str, complaint: str) -> None:
    """Each bad value is named, with what would do."""
    with pytest.raises(InputError, match=complaint):
        style(_changed(tmp_path, was, now))


def test_a_missing_file_is_named() -> None:
    """A wrong path says so."""
    with pytest.raises(InputError, match="cannot be read"):
        style("/nowhere/mine.toml")
