"""Measure the store on the book of a house that has cooked for years: dump, restore, backup, start-up.

    python -m benchmarks.five_years [--rows 200000] [--seed 1]

The book is invented, the same for the same seed: the demo house's dishes and people, and day after
day purchases, uses and plans as an ordinary household writes them down.
"""

from __future__ import annotations

import argparse
import random
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import fields, replace
from datetime import date, datetime, timedelta
from datetime import time as time_of_day
from pathlib import Path

from chauka import demo
from chauka import kitchen as k
from chauka.store import opening

opening.point_to(None)

from chauka.store import books, codec, dump  # noqa: E402 - Django must be set up before
from chauka.store.dump import Dump, DumpedAction, DumpedChange, DumpedPlan  # noqa: E402

ROWS = 200_000
START = date(2022, 3, 14)
PLAN_EVERY_DAYS = 7
BINNED_SHARE = 0.03
"""So many lots end in the bin, with a word why; invented."""


def made(rows: int = ROWS, seed: int = 1, dishes: int = 0) -> Dump:
    """A dump of at least so many rows in all tables, ending some years after it began; at least so many dishes."""
    chance = random.Random(seed)
    book = demo.book(START)
    book = replace(book, dishes=tuple(_variants(book.dishes, max(dishes, len(book.dishes)))))
    past = _Past(chance, book.offers)
    plans: list[DumpedPlan] = []
    day, written = START, _rows_of(book.dishes)
    while written + past.rows + len(plans) < rows:
        if (day - START).days % PLAN_EVERY_DAYS == 0:
            plan = _plan(day, [d.id for d in book.dishes], book.offers, chance)
            plans.append(
                DumpedPlan(
                    datetime.combine(day, datetime.min.time()),
                    datetime.combine(day, time_of_day(8)),
                    plan,
                    len(plans) + 1,
                )
            )
        past.live(day)
        day += timedelta(days=1)
    return Dump(
        house=book.house, dishes=book.dishes, offers=book.offers, lots=book.lots, gone_lots=tuple(past.gone),
        actions=tuple(past.actions), prices=tuple(past.prices), plans=tuple(plans),
    )  # fmt: skip


def _variants(dishes: tuple[k.Dish, ...], count: int) -> Iterator[k.Dish]:
    """The dishes, and again under other names until there are so many."""
    for number in range(count):
        turn, place = divmod(number, len(dishes))
        dish = dishes[place]
        yield replace(dish, id=f"{dish.id}-{turn}", name=f"{dish.name} {turn}") if turn else dish


def _rows_of(dishes: tuple[k.Dish, ...]) -> int:
    return sum(1 + len(d.lines) + len(d.steps) for d in dishes)


class _Past:
    """Day after day: what was bought, then used up in three portions, each an action of its own."""

    def __init__(self, chance: random.Random, offers: tuple[k.Offer, ...]) -> None:
        self.chance, self.offers = chance, offers
        self.actions: list[DumpedAction] = []
        self.gone: list[k.Lot] = []
        self.prices: list[k.PriceSeen] = []
        self.rows = 0

    def live(self, day: date) -> None:
        """One day."""
        for number in range(6):
            offer = self.chance.choice(self.offers)
            at = datetime.combine(day, datetime.min.time()) + timedelta(hours=8, minutes=number)
            lot = k.Lot(
                f"{offer.food.lower()}-{day}-{number}", offer.grams, k.Form.WHOLE, k.Place.FRIDGE, at,
                food=offer.food, cost=offer.price,
            )  # fmt: skip
            self._act(at, k.Deed.BOUGHT, None, lot, lot.grams)
            self.prices.append(k.PriceSeen(offer.food, day, offer.grams, offer.price))
            before = lot
            for share in (2, 1, 0):
                left = replace(lot, grams=lot.grams * share / 3, cost=(lot.cost or 0) * share // 3)
                at += timedelta(hours=20)
                off = not share and self.chance.random() < BINNED_SHARE
                self._act(
                    at,
                    k.Deed.BINNED if off else k.Deed.USED,
                    before,
                    left if share else None,
                    before.grams - left.grams,
                    why="wilted on day 3" if off else "",
                )
                before = left
            self.gone.append(before)
            self.rows += 2

    def _act(
        self, at: datetime, deed: k.Deed, before: k.Lot | None, after: k.Lot | None, grams: float, *, why: str = ""
    ) -> None:
        lot = after or before
        assert lot is not None  # noqa: S101
        row = k.LedgerRow(at=at, deed=deed, grams=grams, lot=lot.id, food=lot.food, cost=lot.cost, why=why)
        change = DumpedChange("lot", lot.id, codec.to_plain(before), codec.to_plain(after))
        self.actions.append(DumpedAction(at, str(deed), lot.id, (row,), (change,), len(self.actions) + 1))
        self.rows += 3


def _plan(start: date, dishes: list[str], offers: tuple[k.Offer, ...], chance: random.Random) -> k.TablePlan:
    days = [start + timedelta(days=i) for i in range(7)]
    sittings = [(day, meal) for day in days for meal in (k.Meal.BREAKFAST, k.Meal.LUNCH, k.Meal.DINNER)]
    chosen = [chance.choice(dishes) for _ in range(2 * len(sittings))]
    bought = [chance.choice(offers) for _ in range(60)]
    return k.TablePlan(
        start=start,
        days=7,
        sittings=tuple(
            k.Sitting(day, meal, datetime.min.time().replace(hour=12), 60, ("a", "b", "c")) for day, meal in sittings
        ),
        batches=tuple(
            k.Batch(f"b{i}", chosen[i], *sittings[i // 2], 5.0) for i in range(len(chosen))
        ),
        servings=tuple(
            k.Serving(*sittings[i // 2], k.Course.VEGETABLE, chosen[i], 5.0, batch=f"b{i}") for i in range(len(chosen))
        ),
        purchases=tuple(
            k.Purchase(f"p{i}", days[i % 7], o.food, o.pack, 1, o.grams, o.grams, o.price, o.stall, (chosen[i % 40],))
            for i, o in enumerate(bought)
        ),
        draws=tuple(k.Draw(f"p{i % 60}", f"b{i % 40}", bought[i % 60].food, 100.0) for i in range(200)),
        left_over=tuple(k.LeftOver(f"p{i}", o.food, 10.0, 100, binned=False, on=days[6]) for i, o in enumerate(bought)),
        shortfalls=(),
        proof=k.Proof(1000.0, 900.0, 20.0, "feasible"),
    )  # fmt: skip


def rows_in(taken: Dump) -> int:
    """Rows that the dump fills, in all tables."""
    simple = sum(len(getattr(taken, f.name)) for f in fields(Dump) if f.name not in ("house", "actions"))
    deeds = sum(1 + len(a.rows) + len(a.changes) for a in taken.actions)
    return simple + deeds + sum(len(d.lines) + len(d.steps) for d in taken.dishes)


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Print how long it took."""
    begun, worked = time.monotonic(), time.process_time()
    yield
    spent = f"{time.monotonic() - begun:6.1f} s, of which {time.process_time() - worked:5.1f} s work of this process"
    print(f"{what:<34}{spent}", flush=True)


def main() -> None:
    """Measure, and print one line each."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--rows", type=int, default=ROWS)
    options.add_argument("--seed", type=int, default=1)
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        whole = made(asked.rows, asked.seed)
        file = Path(folder) / "house.json"
        now = datetime(2027, 3, 14, 7)  # noqa: DTZ001 - wall time of the house
        print(f"{rows_in(whole)} rows, {len(whole.plans)} plans, seed {asked.seed}")
        opening.open_book(Path(folder) / "book.sqlite3")
        dump.restore(whole)
        with timed("dump to a file"):
            dump.write(books.household(), file, now)
        print(f"{'the file':<34}{file.stat().st_size / 1e6:6.1f} MB")
        with timed("restore: read and check"):
            read = dump.read(file)
        with timed("restore: write"):
            dump.restore(read)
        assert read == whole  # noqa: S101 - a benchmark of something wrong is worth nothing
        with timed("a copy of the book (backup)"):
            opening.copy_book(Path(folder) / "book.sqlite3", "by-hand")
        with timed("load the book"):
            books.load_book(books.household())


if __name__ == "__main__":
    main()
