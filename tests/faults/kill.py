"""Kill the real server without warning while phones write, again and again; what was acknowledged must be there.

    python -m tests.faults.kill --kills 500 --seed 1

What this shows: no half-written action, no lost acknowledgement, a whole file after every kill of the
process. What it cannot show is a power cut, in which the disk itself may forget what it said it kept;
`synchronous=FULL` asks the disk for the best it can do.
"""

from __future__ import annotations

import argparse
import http.client
import json
import random
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from tests.faults.serving import Phone, Serving

PHONES = 3
LONGEST_S = 1.5
"""The longest time from the first action to the kill [s]."""

LOT_G = 100_000.0


@dataclass(slots=True)
class Story:
    """What the phones sent and what the server acknowledged, by the mark that each action leaves in the book."""

    sent: set[str] = field(default_factory=set)
    acknowledged: set[str] = field(default_factory=set)
    refused: list[str] = field(default_factory=list)
    kills: int = 0
    restarts_s: list[float] = field(default_factory=list)


class LostError(AssertionError):
    """The book is not what was acknowledged."""


def act(phone: Phone, mark: str, chance: random.Random, lots: list[str]) -> int:
    """One random action that leaves `mark` in the book; returns the status."""
    if chance.random() < 0.4:
        return phone.post("/shelf/add", text=f"{chance.randint(1, 900)} g spinach, 1 kg rice, {mark} g potatoes")
    deed = chance.choice(("used", "eaten", "binned"))
    return phone.post(
        f"/shelf/{chance.choice(lots)}/log", deed=deed, amount=f"{chance.randint(1, 5)} g", why=f"<{mark}>"
    )


def _write(phone: Phone, story: Story, chance: random.Random, lots: list[str], names: Callable[[], str]) -> None:
    while True:
        mark = names()
        story.sent.add(mark)
        try:
            status = act(phone, mark, chance, lots)
        except (OSError, http.client.HTTPException):
            return  # killed: nobody knows whether this one was kept
        if status == 302:
            story.acknowledged.add(mark)
        else:
            story.refused.append(f"{mark}: {status}")
            return


def kill_again_and_again(
    book: Path, lots: list[str], *, kills: int, seed: int, told: Callable[[Story], None] | None = None
) -> Story:
    """Start, write from several phones, kill, check; `kills` times. Raises `LostError` with what is missing."""
    chance, story, cookies = random.Random(seed), Story(), dict[str, str]()  # noqa: S311 - a seeded test
    number, lock = [10_000], threading.Lock()

    def names() -> str:
        with lock:
            number[0] += 1
            return str(number[0])

    for _ in range(kills):
        begun = time.monotonic()
        server = Serving(book)
        try:
            phones = [Phone(server.port) for _ in range(PHONES)]
            for phone in phones:
                phone.cookies.update(cookies)
            phones[0].get("/shelf/")
            story.restarts_s.append(time.monotonic() - begun)
            cookies |= phones[0].cookies
            writers = [
                threading.Thread(
                    target=_write,
                    args=(phone, story, random.Random(chance.random()), lots, names),  # noqa: S311
                )
                for phone in phones
            ]
            for phone, writer in zip(phones, writers, strict=True):
                phone.cookies.update(cookies)
                writer.start()
            time.sleep(chance.uniform(0.0, LONGEST_S))
        finally:
            server.kill()
        for writer in writers:
            writer.join()
        for phone in phones:
            phone.close()
        story.kills += 1
        check(book, story)
        if told:
            told(story)
    return story


def check(book: Path, story: Story) -> None:
    """By SQL alone, apart from the code under test: the file whole, every action whole, every acknowledgement kept."""
    file = sqlite3.connect(book)
    try:
        if (found := file.execute("PRAGMA integrity_check").fetchall()) != [("ok",)]:
            raise LostError(f"integrity_check: {found}")
        if found := file.execute("PRAGMA foreign_key_check").fetchall():
            raise LostError(f"foreign_key_check: {found}")
        marks = _marks(file)
        if lost := story.acknowledged - marks:
            raise LostError(f"acknowledged and lost: {sorted(lost)}")
        if strange := marks - story.sent:
            raise LostError(f"never sent: {sorted(strange)}")
        if story.refused:
            raise LostError(f"refused: {story.refused}")
        _whole_actions(file)
    finally:
        file.close()


def _marks(file: sqlite3.Connection) -> set[str]:
    found = [why.strip("<>") for (why,) in file.execute("SELECT why FROM store_ledgerrow WHERE why LIKE '<%>'")]
    added = [note.split()[-3] for (note,) in file.execute("SELECT note FROM store_action WHERE note LIKE '%potatoes'")]
    both = [*found, *added]
    if len(both) != len(set(both)):
        raise LostError("an action was written twice")
    return set(both)


def _whole_actions(file: sqlite3.Connection) -> None:
    """An action that adds has three rows and three changes, any other one of each; lots are what was last written."""
    query = """
        SELECT a.task, (SELECT count(*) FROM store_ledgerrow r WHERE r.action_id = a.id),
               (SELECT count(*) FROM store_change c WHERE c.action_id = a.id), a.id FROM store_action a
    """
    for task, rows, changes, number in file.execute(query):
        right = 3 if task == "add to the shelf" else 1
        if (rows, changes) != (right, right):
            raise LostError(f"action {number} ({task}) is half there: {rows} rows, {changes} changes")
    latest = """
        SELECT key, after FROM store_change WHERE kind = 'lot'
        AND id IN (SELECT max(id) FROM store_change WHERE kind = 'lot' GROUP BY key)
    """
    lots = {key: (grams, gone) for key, grams, gone in file.execute("SELECT key, grams, gone FROM store_lot")}
    for key, after in file.execute(latest):
        grams, gone = lots[key]
        said = json.loads(after) if after else None
        if (said is None) != bool(gone) or (said is not None and abs(said["grams"] - grams) > 1e-6):
            raise LostError(f"lot {key} is {grams:g} g, gone {gone}; its last change says {after}")


def made_book(folder: Path) -> tuple[Path, list[str]]:
    """A small house's book with lots that do not run out, made in a process of its own; and their ids."""
    book = folder / "book.sqlite3"
    script = (
        "from pathlib import Path; from dataclasses import replace; from chauka.store import opening; "
        f"opening.open_book(Path({str(book)!r})); from chauka.store import books; "
        "from tests.services.small_house import BOOK; "
        f"books.create(replace(BOOK, lots=tuple(replace(lot, grams={LOT_G}) for lot in BOOK.lots)))"
    )
    subprocess.run([sys.executable, "-c", script], check=True)  # noqa: S603 - our own words
    return book, ["spinach-1", "rice-1", "curd-1"]


def main() -> None:
    """Kill as often as the command line says, and print the figures."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--kills", type=int, default=500)
    options.add_argument("--seed", type=int, default=1)
    asked = options.parse_args()

    def told(story: Story) -> None:
        if story.kills % 25 == 0:
            print(f"{story.kills} kills, {len(story.acknowledged)} acknowledged, 0 lost", flush=True)  # noqa: T201

    with tempfile.TemporaryDirectory() as folder:
        story = kill_again_and_again(*made_book(Path(folder)), kills=asked.kills, seed=asked.seed, told=told)
    unknown = len(story.sent) - len(story.acknowledged)
    slowest = max(story.restarts_s)
    print(  # noqa: T201
        f"{story.kills} kills: {len(story.acknowledged)} acknowledged actions all there, {unknown} in flight whole "
        f"or absent, 0 lost; slowest start to the first page {slowest:.1f} s"
    )


if __name__ == "__main__":
    main()
