"""How a food stands in a month of a region, by the table `season_calendar`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from chauka import tables
from chauka.errors import InputError


class SeasonState(StrEnum):
    """How a food stands in the market of a month."""

    COMING = "coming"
    """Not yet there; its months begin with the next one."""
    BEST = "best"
    LEAVING = "leaving"
    """There, but no longer next month."""
    OUT = "out"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Standing:
    """A food's state in one month, the months (1–12) it is listed in, and whose list that is."""

    state: SeasonState
    months: frozenset[int]
    source: str


@dataclass(frozen=True, slots=True)
class _Listed:
    months: frozenset[int]
    source: str


@cache
def _calendar(region: str) -> Mapping[str, _Listed]:
    """Months and sources of one region by food; rows of one food (two crops a year) are joined."""
    months: dict[str, set[int]] = {}
    sources: dict[str, list[str]] = {}
    for row in tables.rows("season_calendar"):
        if row["region"] == region and row["food_code"]:
            months.setdefault(row["food_code"], set()).update(int(month) for month in row["months"].split())
            sources.setdefault(row["food_code"], []).append(f"{row['source']} ({row['how']})")
    return MappingProxyType(
        {food: _Listed(frozenset(of_it), "; ".join(dict.fromkeys(sources[food]))) for food, of_it in months.items()}
    )


@cache
def regions() -> tuple[str, ...]:
    """The regions that have a calendar, by name."""
    return tuple(sorted({row["region"] for row in tables.rows("season_calendar")}))


def standing(food: str, month: int, region: str) -> Standing:
    """How a food stands in a month of a region, with its months and their source.

    Raises
    ------
    InputError
        The month is not 1 to 12.
    """
    if not 1 <= month <= 12:
        raise InputError({"month": (f"{month} is not a month; give 1 (January) to 12",)})
    listed = _calendar(region).get(food)
    if listed is None:
        return Standing(SeasonState.UNKNOWN, frozenset(), "")
    following = month % 12 + 1
    if month in listed.months:
        state = SeasonState.BEST if following in listed.months else SeasonState.LEAVING
    else:
        state = SeasonState.COMING if following in listed.months else SeasonState.OUT
    return Standing(state, listed.months, listed.source)


def state(food: str, month: int, region: str) -> SeasonState:
    """The state alone. A calendar is a list that somebody wrote, not a count: the cook overrules it."""
    return standing(food, month, region).state


def months_of(food: str, region: str) -> frozenset[int]:
    """The months (1–12) in which a region's calendar lists a food; empty where it does not know it."""
    listed = _calendar(region).get(food)
    return listed.months if listed else frozenset()
