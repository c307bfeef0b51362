"""What every page costs the server: time of its processor, time on the wall, questions to the database.

    python -m benchmarks.pages [--five-years] [--rows 200000] [--dishes 500] [--times 15] [--json]

On the demo house with a plan; with --five-years on a book of years too. Each page is asked for warm, and
anew after an action that changed the shelf, without a network between. Other work on the machine
lengthens both times.
"""

from __future__ import annotations

import argparse
import json
import os
import tempfile
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime, timedelta
from datetime import time as time_of_day
from pathlib import Path

from django.conf import settings
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from benchmarks import five_years  # sets Django up
from chauka import demo, planning
from chauka.store import books, dump, ledger, opening
from chauka.store.dump import Dump, DumpedPlan

PAGES = (
    "/", "/market/", "/shelf/", "/bench/", "/stove/", "/stove/{day}/dinner/", "/table/", "/page/", "/dishes/",
    "/dishes/spinach-dal-with-lemon/", "/dishes/new", "/house/", "/ledger/", "/ledger/?before=1000", "/foods/C033/",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cost:
    """One page: 95th percentiles in milliseconds, warm and after an action, and questions after an action."""

    page: str
    status: int
    warm_work_ms: float
    warm_wall_ms: float
    anew_work_ms: float
    anew_wall_ms: float
    queries: int


@dataclass(frozen=True, slots=True)
class Figures:
    """All pages on one book."""

    book: str
    rows: int
    dishes: int
    pages: tuple[Cost, ...]
    load: float


def _p95(values: list[float]) -> float:
    return round(sorted(values)[min(len(values) - 1, int(0.95 * len(values)))], 1)


def _timed(ask: Callable[[], object]) -> tuple[float, float]:
    wall, work = time.perf_counter(), time.process_time()
    ask()
    return 1000 * (time.process_time() - work), 1000 * (time.perf_counter() - wall)


def measured(name: str, whole: Dump, today: date, times: int, folder: Path) -> Figures:
    """Restore the book and ask for every page."""
    opening.open_book(folder / f"{name}.sqlite3")
    owner = dump.restore(whole)
    settings.CHAUKA_TODAY = today.isoformat()
    now = datetime.combine(today, time_of_day(7))
    client = Client(SERVER_NAME="localhost", headers={"accept-encoding": "gzip"})
    lot = books.load_book(owner).lots[0]

    def act() -> None:
        with ledger.action(owner, now, "weigh a lot") as recorder:
            recorder.put(replace(lot, note=f"weighed at {time.monotonic()}"))

    costs = []
    for page in (page.format(day=today.isoformat()) for page in PAGES):
        status = client.get(page).status_code
        warm = [_timed(lambda page=page: client.get(page)) for _ in range(times)]  # type: ignore[misc]
        anew = []
        for _ in range(times):
            act()
            anew.append(_timed(lambda page=page: client.get(page)))  # type: ignore[misc]
        act()
        with CaptureQueriesContext(connection) as asked:
            client.get(page)
        worked, waited = zip(*warm, strict=True)
        worked_anew, waited_anew = zip(*anew, strict=True)
        costs.append(
            Cost(
                page,
                status,
                _p95(list(worked)),
                _p95(list(waited)),
                _p95(list(worked_anew)),
                _p95(list(waited_anew)),
                len(asked),
            )
        )
    return Figures(name, five_years.rows_in(whole), len(whole.dishes), tuple(costs), round(os.getloadavg()[0], 1))


def _planned(whole: Dump, today: date) -> Dump:
    """The same with a real plan from today on, and the demo house's shelf of today."""
    book = demo.book(today)
    plan = planning.plan(book, today, 7, seconds=3)
    now = datetime.combine(today, time_of_day(6))
    number = max((p.number for p in whole.plans), default=0) + 1_000_000
    return replace(whole, lots=book.lots, plans=(*whole.plans, DumpedPlan(now, now, plan, number)))


def _demo(today: date) -> Dump:
    book = demo.book(today)
    return replace(
        five_years.made(0), house=book.house, dishes=book.dishes, offers=book.offers, lots=book.lots,
        gone_lots=(), actions=(), prices=(), plans=(),
    )  # fmt: skip


def main() -> None:
    """Measure, and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--five-years", action="store_true")
    options.add_argument("--rows", type=int, default=five_years.ROWS)
    options.add_argument("--dishes", type=int, default=500)
    options.add_argument("--times", type=int, default=15)
    options.add_argument("--json", action="store_true")
    asked = options.parse_args()
    today = five_years.START
    with tempfile.TemporaryDirectory() as folder:
        found = [measured("demo", _planned(_demo(today), today), today, asked.times, Path(folder))]
        if asked.five_years:
            whole = five_years.made(asked.rows, dishes=asked.dishes)
            last = max(action.at for action in whole.actions).date() + timedelta(days=1)
            found.append(measured("five-years", _planned(whole, last), last, asked.times, Path(folder)))
    if asked.json:
        print(json.dumps([asdict(one) for one in found], indent=2))
        return
    for one in found:
        print(f"{one.book}: {one.rows} rows, {one.dishes} dishes; load {one.load}")
        print(f"{'page':<34}{'warm: work':>11}{'wall':>8}{'anew: work':>12}{'wall':>8}{'questions':>11}")
        for cost in one.pages:
            name = cost.page if cost.status == 200 else f"{cost.page} ({cost.status})"
            print(
                f"{name:<34}{cost.warm_work_ms:>8} ms{cost.warm_wall_ms:>8}{cost.anew_work_ms:>9} ms"
                f"{cost.anew_wall_ms:>8}{cost.queries:>11}"
            )


if __name__ == "__main__":
    main()
