"""Gives readers their inputs and keeps what came of it: faults, and how long the slowest took."""

from __future__ import annotations

import random
import signal
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from typing import Any

from benchmarks.fuzz.readers import Reader
from chauka.errors import ChaukaError

HANG_S = 1.0
"""What takes longer is a hang [s of this process's own time: what other programs take does not count]."""

GIVE_UP_S = 5.0
"""A reader that has not come back after this is stopped, and counts as a fault [s]."""

MOST_SHOWN = 10
CHUNK = 500
"""Inputs that share one seed, so that any of them can be made again alone."""


class HangError(Exception):
    """The watchdog's."""


@dataclass(slots=True)
class Found:
    """What came of one reader's inputs. `refused` were answered with an error of chauka's own."""

    reader: str
    inputs: int = 0
    refused: int = 0
    faults: Counter[str] = field(default_factory=Counter)
    examples: list[str] = field(default_factory=list)
    hangs: int = 0
    slowest_s: float = 0.0
    slowest: str = ""
    seconds: float = 0.0

    def add(self, other: Found) -> None:
        """Take another part of the same reader's inputs in."""
        self.inputs += other.inputs
        self.refused += other.refused
        self.hangs += other.hangs
        self.seconds += other.seconds
        self.faults += other.faults
        self.examples = (self.examples + other.examples)[:MOST_SHOWN]
        if other.slowest_s > self.slowest_s:
            self.slowest_s, self.slowest = other.slowest_s, other.slowest

    @property
    def line(self) -> str:
        """The figures in one line."""
        mean_ms = 1000 * self.seconds / max(1, self.inputs)
        return (
            f"{self.reader}: {self.inputs} inputs, {self.refused} refused, {self.faults.total()} faults, "
            f"{self.hangs} over {HANG_S:g} s, mean {mean_ms:.2f} ms, slowest {1000 * self.slowest_s:.0f} ms"
        )

    @property
    def told(self) -> str:
        """The figures, what the slowest input was, and the faults with examples."""
        faults = [f"  {count} × {what}" for what, count in self.faults.most_common()]
        return "\n".join([self.line, f"  slowest: {self.slowest}", *faults, *(f"    {e}" for e in self.examples)])

    @property
    def plain(self) -> dict[str, object]:
        """The same as plain values."""
        return asdict(self)


def added_up(parts: Iterable[Sequence[Found]]) -> list[Found]:
    """Each reader's figures over all jobs, then those of all readers."""
    whole: dict[str, Found] = {}
    for found in (one for part in parts for one in part):
        whole.setdefault(found.reader, Found(found.reader)).add(found)
        whole.setdefault("all", Found("all")).add(found)
    return [found for name, found in whole.items() if name != "all"] + [whole["all"]]


def run(reader: Reader, count: int, seed: int, *, job: int = 0, jobs: int = 1) -> Found:
    """So many inputs of one reader, the same for the same seed; of several jobs each takes its part of the chunks."""
    found = Found(reader.name)
    for chunk in range(job, -(-count // CHUNK), jobs):
        chance = random.Random(f"{seed}/{reader.name}/{chunk}")
        for number in range(min(CHUNK, count - chunk * CHUNK)):
            _one(reader, reader.make(chance), found, f"{reader.name} {chunk}/{number}")
    return found


def shared_out(inputs: int, readers: Sequence[Reader]) -> dict[str, int]:
    """How many of all inputs each reader gets, by its share."""
    whole = sum(reader.share for reader in readers)
    return {reader.name: round(inputs * reader.share / whole) for reader in readers}


def _one(reader: Reader, given: Any, found: Found, where: str) -> None:
    begun = time.process_time()
    try:
        with _watchdog():
            reader.read(given)
    except ChaukaError:
        found.refused += 1
    except Exception as error:  # noqa: BLE001 - any other error is the finding
        found.faults[f"{type(error).__name__} at {_place(error)}"] += 1
        if len(found.examples) < MOST_SHOWN:
            found.examples.append(f"{where}: {type(error).__name__}: {str(error)[:100]}: {repr(given)[:300]}")
    took = time.process_time() - begun
    found.inputs += 1
    found.seconds += took
    found.hangs += took > HANG_S
    if took > found.slowest_s:
        found.slowest_s, found.slowest = took, f"{where}: {len(repr(given))} signs, {repr(given)[:120]}"


def _place(error: BaseException) -> str:
    """The innermost line of chauka's that the error passed."""
    place, trace = "", error.__traceback__
    while trace is not None:
        name = trace.tb_frame.f_code.co_filename
        if "/chauka/" in name or not place:
            place = f"{name.rpartition('/chauka/')[2]}:{trace.tb_lineno}"
        trace = trace.tb_next
    return place


@contextmanager
def _watchdog() -> Iterator[None]:
    def bark(*_: object) -> None:
        raise HangError(f"nothing after {GIVE_UP_S:g} s")

    before = signal.signal(signal.SIGPROF, bark)
    signal.setitimer(signal.ITIMER_PROF, GIVE_UP_S)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)
