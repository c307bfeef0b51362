"""Many phones at once against the real server on this machine: errors, waiting times, lost entries.

    python -m benchmarks.phones [--phones 50] [--seconds 60] [--rows 0] [--json]

Each phone looks at pages and writes to the shelf with a second or so between, as people do. With
--rows the book is one of years (see `benchmarks.five_years`), and the server's start is timed too. The phones are
threads of this process and take their own share of the machine, which is told beside the server's.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import resource
import sqlite3
import tempfile
import threading
import time
from dataclasses import asdict, dataclass, field
from pathlib import Path

from tests.faults import kill
from tests.faults.serving import Phone, Serving

PAGES = ("/", "/shelf/", "/market/", "/house/", "/dishes/", "/ledger/")
THINKS_S = (0.5, 1.5)


@dataclass(slots=True)
class Seen:
    """What one phone saw."""

    waits_s: list[float] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    acknowledged: set[str] = field(default_factory=set)


def _live(number: int, port: int, until: float, lots: list[str], seen: Seen) -> None:
    chance, phone = random.Random(number), Phone(port)
    phone.get("/shelf/")
    while time.monotonic() < until:
        time.sleep(chance.uniform(*THINKS_S))
        begun = time.monotonic()
        try:
            _one(number, chance, phone, lots, seen)
        except Exception as error:  # noqa: BLE001 - any failure is a figure here
            seen.errors.append(repr(error))
        seen.waits_s.append(time.monotonic() - begun)
    phone.close()


def _one(number: int, chance: random.Random, phone: Phone, lots: list[str], seen: Seen) -> None:
    if chance.random() < 0.6:
        page = chance.choice(PAGES)
        status = phone.get(page)[0]
        if status >= 500 or (status != 200 and page != "/market/"):
            seen.errors.append(f"{page}: {status}")
        return
    mark = f"{number:03d}{len(seen.waits_s):04d}"
    status = phone.post(f"/shelf/{chance.choice(lots)}/log", deed="used", amount="1 g", why=f"<{mark}>")
    if status == 302:
        seen.acknowledged.add(mark)
    else:
        seen.errors.append(f"log: {status}")


def _book(rows: int, folder: Path) -> tuple[Path, list[str]]:
    if not rows:
        return kill.made_book(folder)
    from benchmarks import five_years  # noqa: PLC0415 - sets Django up, which the small book does elsewhere
    from chauka.store import dump, opening  # noqa: PLC0415

    path = folder / "book.sqlite3"
    opening.open_book(path)
    whole = five_years.made(rows)
    dump.restore(whole)
    return path, [lot.id for lot in whole.lots if lot.grams > 1000][:5]


@dataclass(frozen=True, slots=True)
class Figures:
    """What was measured: waits in milliseconds, work in seconds of processor time."""

    phones: int
    seconds: float
    rows: int
    server_listens_s: float
    pages_warm_s: float
    requests: int
    errors: int
    median_ms: float
    p95_ms: float
    p99_ms: float
    longest_ms: float
    acknowledged: int
    lost: int
    server_work_s: float
    phones_work_s: float
    load_before: float
    load_after: float
    first_errors: list[str]


def measured(phones: int, seconds: float, rows: int) -> Figures:
    """Let them loose, and look at what came of it."""
    with tempfile.TemporaryDirectory() as folder:
        book, lots = _book(rows, Path(folder))
        before, load, begun = _work_of_children_s(), os.getloadavg()[0], time.monotonic()
        with Serving(book) as server:
            listens = time.monotonic() - begun
            for page in PAGES:
                Phone(server.port).get(page)
            warm = time.monotonic() - begun
            own = time.process_time()
            every = _all_live(phones, server.port, seconds, lots)
            own = time.process_time() - own
        work = _work_of_children_s() - before
        file = sqlite3.connect(book)
        there = {why.strip("<>") for (why,) in file.execute("SELECT why FROM store_ledgerrow WHERE why LIKE '<%>'")}
        file.close()
    waits = sorted(1000 * wait for seen in every for wait in seen.waits_s)
    at = {share: round(waits[min(len(waits) - 1, int(share * len(waits)))], 1) for share in (0.5, 0.95, 0.99)}
    errors = [error for seen in every for error in seen.errors]
    acknowledged = {mark for seen in every for mark in seen.acknowledged}
    return Figures(
        phones, seconds, rows, round(listens, 2), round(warm, 2), len(waits), len(errors), at[0.5], at[0.95], at[0.99],
        round(waits[-1], 1), len(acknowledged), len(acknowledged - there), round(work, 1), round(own, 1),
        round(load, 1), round(os.getloadavg()[0], 1), errors[:3],
    )  # fmt: skip


def _all_live(phones: int, port: int, seconds: float, lots: list[str]) -> list[Seen]:
    every = [Seen() for _ in range(phones)]
    until = time.monotonic() + seconds
    threads = [threading.Thread(target=_live, args=(i, port, until, lots, seen)) for i, seen in enumerate(every)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return every


def _work_of_children_s() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def main() -> None:
    """Measure, and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--phones", type=int, default=50)
    options.add_argument("--seconds", type=float, default=60.0)
    options.add_argument("--rows", type=int, default=0)
    options.add_argument("--json", action="store_true")
    asked = options.parse_args()
    found = measured(asked.phones, asked.seconds, asked.rows)
    if asked.json:
        print(json.dumps(asdict(found), indent=2))
        return
    print(f"server listens after {found.server_listens_s} s, every page asked for once after {found.pages_warm_s} s")
    print(f"{found.requests} requests, {found.errors} errors {found.first_errors or ''}")
    print(
        f"wait: median {found.median_ms:.0f} ms, p95 {found.p95_ms:.0f} ms, p99 {found.p99_ms:.0f} ms, "
        f"longest {found.longest_ms:.0f} ms"
    )
    print(f"{found.acknowledged} entries acknowledged, {found.lost} lost")
    print(
        f"work: server {found.server_work_s} s with its start ({1000 * found.server_work_s / found.requests:.0f} ms a "
        f"request), phones {found.phones_work_s} s; load {found.load_before} before, {found.load_after} after"
    )


if __name__ == "__main__":
    main()
