"""Many phones at once against the real server on this machine: errors, waiting times, lost entries.

    python -m benchmarks.phones [--phones 50] [--seconds 60] [--rows 0]

Each phone looks at pages and writes to the shelf with a second or so between, as people do. With
--rows the book is one of years (see `benchmarks.five_years`), and the server's start is timed too.
"""

from __future__ import annotations

import argparse
import random
import sqlite3
import tempfile
import threading
import time
from dataclasses import dataclass, field
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


def main() -> None:
    """Measure, and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--phones", type=int, default=50)
    options.add_argument("--seconds", type=float, default=60.0)
    options.add_argument("--rows", type=int, default=0)
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        book, lots = _book(asked.rows, Path(folder))
        begun = time.monotonic()
        with Serving(book) as server:
            print(f"server listens after {time.monotonic() - begun:.1f} s", flush=True)
            for page in PAGES:
                Phone(server.port).get(page)
            print(f"every page asked for once after {time.monotonic() - begun:.1f} s", flush=True)
            every = [Seen() for _ in range(asked.phones)]
            until = time.monotonic() + asked.seconds
            threads = [
                threading.Thread(target=_live, args=(i, server.port, until, lots, seen)) for i, seen in enumerate(every)
            ]
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()
        file = sqlite3.connect(book)
        there = {why.strip("<>") for (why,) in file.execute("SELECT why FROM store_ledgerrow WHERE why LIKE '<%>'")}
        file.close()
    _told(every, there)


def _told(every: list[Seen], there: set[str]) -> None:
    waits = sorted(wait for seen in every for wait in seen.waits_s)
    errors = [error for seen in every for error in seen.errors]
    acknowledged = {mark for seen in every for mark in seen.acknowledged}
    at = {share: waits[min(len(waits) - 1, int(share * len(waits)))] * 1000 for share in (0.5, 0.95, 0.99)}
    print(f"{len(waits)} requests, {len(errors)} errors {errors[:3] or ''}")
    print(f"wait: median {at[0.5]:.0f} ms, p95 {at[0.95]:.0f} ms, p99 {at[0.99]:.0f} ms, longest {waits[-1]:.1f} s")
    print(f"{len(acknowledged)} entries acknowledged, {len(acknowledged - there)} lost")


if __name__ == "__main__":
    main()
