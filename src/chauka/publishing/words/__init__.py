"""The printed words of a sheet in several languages, one TOML file each."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from enum import StrEnum
from functools import cache
from importlib.resources import files


class Language(StrEnum):
    """A language in which sheets are labelled."""

    ENGLISH = "en"
    HINDI = "hi"


@dataclass(frozen=True, slots=True)
class Words:
    """Every label a sheet may need, by the thing it names."""

    language: Language
    heads: Mapping[str, str]
    notes: Mapping[str, str]
    units: Mapping[str, str]
    nutrients: Mapping[str, str]
    courses: Mapping[str, str]
    allergens: Mapping[str, str]
    vessels: Mapping[str, str]
    heats: Mapping[str, str]


@cache
def words(language: Language = Language.ENGLISH) -> Words:
    """The words of one language."""
    tables = tomllib.loads(files(__name__).joinpath(f"{language}.toml").read_text("utf-8"))
    return Words(language, **{f.name: tables[f.name] for f in fields(Words) if f.name != "language"})
