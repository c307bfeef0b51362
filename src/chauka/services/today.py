"""Today at a glance: the season, what to use first, what to prepare, what is on the table."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from chauka import scheduling, season
from chauka.kitchen import Book, Dish, Sitting, TablePlan
from chauka.publishing.calendar import cooking_starts
from chauka.services import bench, foods, plan_days, shelf
from chauka.store import books
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class SeasonItem:
    """One item of the region's calendar: its months (1–12) and how it stands this month."""

    food: str
    name: str
    months: frozenset[int]
    state: season.SeasonState

    @property
    def all_year(self) -> bool:
        """Whether the market always has it."""
        return len(self.months) == 12


@dataclass(frozen=True, slots=True)
class TodaySitting:
    """One sitting of today and its dishes; `starts` is about when to start cooking, None where nothing is cooked."""

    sitting: Sitting
    dishes: tuple[Dish, ...]
    starts: datetime | None = None


@dataclass(frozen=True, slots=True)
class Today:
    """What today asks of the cook. `planned` is False while there is no table plan."""

    at: datetime
    house: str
    season: tuple[SeasonItem, ...]
    use_first: tuple[shelf.ShelfLot, ...]
    prepare: tuple[scheduling.BenchEntry, ...]
    sittings: tuple[TodaySitting, ...]
    planned: bool


MOST_TO_USE_FIRST = 6
URGENT = (shelf.Freshness.SOON, shelf.Freshness.TODAY, shelf.Freshness.PAST)


def view(household: Household, now: datetime) -> Today:
    """Today for one household."""
    book = books.load_book(household)
    kept = plan_days.current(household, now)
    starts = _starts(kept.plan, book) if kept else {}
    seen = shelf.view(household, now)
    urgent = [one for one in seen.lots if one.freshness in URGENT]
    return Today(
        at=now,
        house=book.house.name,
        season=calendar(book, now.month),
        use_first=tuple(urgent[:MOST_TO_USE_FIRST]),
        prepare=bench.of_plan(book, kept.plan).bench.on(now.date()) if kept else (),
        sittings=tuple(
            TodaySitting(
                s,
                tuple(book.dish(serving.dish) for serving in kept.plan.at(s.day, s.meal)),
                starts.get(datetime.combine(s.day, s.serve)),
            )
            for s in kept.plan.sittings
            if s.day == now.date()
        )
        if kept
        else (),
        planned=kept is not None,
    )


def _starts(plan: TablePlan, book: Book) -> dict[datetime, datetime]:
    """By the hour of serving, about when to start cooking for it."""
    events = cooking_starts(plan, book.dishes)
    return {e.end: e.start for e in events if isinstance(e.end, datetime) and isinstance(e.start, datetime)}


def calendar(book: Book, month: int) -> tuple[SeasonItem, ...]:
    """What the house's region has over the year and is sold at its market; one item where two foods share a name."""
    items: dict[str, SeasonItem] = {}
    for code in sorted({offer.food for offer in book.offers}):
        stands = season.standing(code, month, book.house.region)
        if stands.months:
            items.setdefault(foods.short(code), SeasonItem(code, foods.short(code), stands.months, stands.state))
    return tuple(items.values())
