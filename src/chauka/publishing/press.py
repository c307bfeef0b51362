"""The one door to the typesetter: a template of ours and data in, bytes out; always the same for the same.

Data reaches a template as JSON and is printed as text there, never read as markup: a dish named
`#import "x"` prints as itself. Signs that no font has are refused by name, since the typesetter would
print a box in their place without a word.
"""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Iterable, Mapping
from enum import StrEnum
from functools import cache
from importlib import import_module
from importlib.resources import files
from pathlib import Path
from typing import Any

import typst
from fontTools.ttLib import TTFont

from chauka.errors import DataError, InputError
from chauka.publishing.style import Style

_OURS = ("fontpkg_spectral", "fontpkg_noto_sans_devanagari")
_NEEDS_NO_GLYPH = frozenset("\n\u200c\u200d\u00ad\u2060\ufeff")
_SPACES = frozenset({"Zs", "Zl", "Zp", "Cc"})


class Sheet(StrEnum):
    """Paper sizes, by their typesetter's name."""

    A4 = "a4"
    A5 = "a5"


def pdf(template: str, data: Mapping[str, Any], style: Style, *, title: str, language: str = "en") -> bytes:
    """A tagged PDF (PDF/UA-1) of one template."""
    made = _compile(template, data, style, title, language, format="pdf", pdf_standards=["ua-1"])
    return made if isinstance(made, bytes) else b"".join(made)


def pngs(template: str, data: Mapping[str, Any], style: Style, *, ppi: float = 72) -> list[bytes]:
    """One picture a page, transparent where the template paints nothing."""
    return _pages(_compile(template, data, style, "", "en", format="png", ppi=ppi))


def svgs(template: str, data: Mapping[str, Any], style: Style) -> list[bytes]:
    """One drawing a page, letters as outlines."""
    return _pages(_compile(template, data, style, "", "en", format="svg"))


def clean(value: Any) -> Any:
    """Data as it may be set: signs of control become spaces, numbers and truths stay."""
    if isinstance(value, str):
        return "".join(c if c == "\n" or unicodedata.category(c) not in _SPACES else " " for c in value)
    if isinstance(value, Mapping):
        return {k: clean(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [clean(v) for v in value]
    return value


def unprintable(value: Any, style: Style) -> frozenset[str]:
    """The signs in the data that none of the style's fonts has."""
    have = _signs(_folders(style))
    return frozenset(c for text in _texts(value) for c in text if c not in have and c not in _NEEDS_NO_GLYPH)


def font_files(style: Style) -> tuple[tuple[str, str, int], ...]:
    """Family, file and index of each upright regular font that the style can use."""
    fonts = _fonts(_folders(style)).fonts()
    return tuple((f.family, str(f.path), f.index) for f in fonts if f.style == "normal" and f.weight == 400)


def _texts(value: Any) -> Iterable[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for v in value.values():
            yield from _texts(v)
    elif isinstance(value, list | tuple):
        for v in value:
            yield from _texts(v)


def _compile(
    template: str, data: Mapping[str, Any], style: Style, title: str, language: str, **how: Any
) -> bytes | list[bytes]:
    printed = clean({"title": title, "language": language, "style": _style_data(style), "data": data})
    if strange := unprintable(printed, style):
        named = ", ".join(f"{c} (U+{ord(c):04X})" for c in sorted(strange)[:6])
        raise InputError(
            {title or template: (f"no font here has {named}; name a folder with a font that has it in the style",)}
        )
    source = "\n".join(_template(name) for name in ("common", "parts", template))
    try:
        made, warnings = typst.compile_with_warnings(
            source.encode(),
            font_paths=_fonts(_folders(style)),
            sys_inputs={"given": json.dumps(printed, ensure_ascii=False)},
            timestamp=0,
            **how,
        )
    except typst.TypstError as error:
        raise DataError(f"the typesetter could not set {template}: {error}") from error
    if warnings:
        raise DataError(f"the typesetter complains about {template}: {'; '.join(w.message for w in warnings)}")
    return made  # type: ignore[no-any-return]


def _pages(made: bytes | list[bytes]) -> list[bytes]:
    return [made] if isinstance(made, bytes) else made


def _style_data(style: Style) -> dict[str, Any]:
    return {
        "paper": style.paper, "ink": style.ink, "faint": style.faint, "rule": style.rule, "accent": style.accent,
        "fonts": [style.serif, *style.others],
    }  # fmt: skip


@cache
def _template(name: str) -> str:
    return files("chauka.publishing").joinpath(f"typst/{name}.typ").read_text("utf-8")


def _folders(style: Style) -> tuple[str, ...]:
    ours = tuple(str(Path(str(import_module(package).__file__)).parent / "files") for package in _OURS)
    if style.folder is None:
        return ours
    if not style.folder.is_dir():
        raise InputError({"style.letters.folder": (f"{style.folder} is not a folder",)})
    return (str(style.folder), *ours)


@cache
def _fonts(folders: tuple[str, ...]) -> typst.Fonts:
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=list(folders))


@cache
def _signs(folders: tuple[str, ...]) -> frozenset[str]:
    """Every sign that an upright font in the folders has."""
    found: set[str] = set()
    seen: set[str] = set()
    for info in _fonts(folders).fonts():
        if info.family in seen or info.style != "normal":
            continue
        seen.add(info.family)
        with TTFont(info.path, fontNumber=info.index, lazy=True) as font:
            found.update(map(chr, font.getBestCmap()))
    return frozenset(found)
