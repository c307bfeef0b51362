"""Planning beside the pages: asked for by any phone, done by a worker process, told to all phones, stopped by any.

What is asked for stands in the book (`store.jobs`), so that it outlives the server. A worker takes the first up, is
heard of every second, and keeps the plan as a proposal; the best after three seconds is kept even if it is cut off
later. Where nothing is heard of a worker any more, another is called; after the third the cook is told.
"""

from __future__ import annotations

import math
import secrets
import threading
import time
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from types import TracebackType
from typing import Self

from django.db import connection

from chauka.errors import ChaukaError, InputError
from chauka.services import plan_days, workers
from chauka.store import jobs
from chauka.store.jobs import Asked, Job
from chauka.store.models import Household

__all__ = ["Asked", "Planning", "Worker", "clear", "current", "start", "stop", "take_up", "work", "worker"]

LOST_S = 20.0
"""A worker of which nothing was heard for so long is dead [s]; a busy machine may keep a live one waiting."""

BEAT_S = 1.0
MOST_TRIES = 3
"""So many workers are called for one plan, if they die."""

MOST_WAITING = 3
CUT_OFF = (
    "Planning was cut off again and again. The best plan so far is kept, if there was one. Begin it anew; a shorter "
    "search needs less of this machine."
)


@dataclass(frozen=True, slots=True)
class Planning:
    """The plan in the making; `value` and `bound` are those of the best so far [coin], None before the first.

    `waiting` more are asked for after it. `complaint` says why the last one was not made; where it is `done`,
    nothing is planned any more.
    """

    seconds: float
    elapsed_s: float
    value: float | None
    bound: float | None
    waiting: int
    complaint: str
    done: bool


class Worker(StrEnum):
    """How the worker stands: nothing is to be done, it is heard of (or was called just now), or nothing is heard."""

    IDLE = "idle"
    ALIVE = "alive"
    SILENT = "silent"


def worker(household: Household) -> Worker:
    """How the worker stands; looks on without calling another."""
    job = jobs.read(household)
    if not job.queue:
        return Worker.IDLE
    return Worker.SILENT if _silent(job) else Worker.ALIVE


def start(household: Household, asked: Asked) -> None:
    """Ask for a plan: worked on at once, or after what was asked for before; the same twice is planned once.

    Raises `InputError` where too much waits already.
    """

    def put(job: Job) -> Job:
        if any(replace(one, now=asked.now) == asked for one in job.queue):
            return replace(job, complaint="")
        if len(job.queue) > MOST_WAITING:
            raise InputError({"table": (f"{MOST_WAITING} plans wait to be made already; wait for them, or stop one",)})
        return replace(job, queue=(*job.queue, asked), complaint="")

    jobs.change(household, put)
    take_up(household)


def current(household: Household) -> Planning | None:
    """What is being planned, or why it was not; None where there is nothing to tell. Sees to it that somebody works."""
    job = jobs.read(household)
    if job.queue and _silent(job):
        job = take_up(household)
    if job == jobs.NOTHING:
        return None
    elapsed_s = max(0.0, time.time() - job.began) if job.worker else 0.0
    seconds = job.queue[0].seconds if job.queue else 0.0
    waiting = max(0, len(job.queue) - 1)
    return Planning(seconds, elapsed_s, job.value, job.best_possible, waiting, job.complaint, done=not job.queue)


def take_up(household: Household) -> Job:
    """Call a worker where there is work and nobody at it; tell of work that was cut off too often instead."""
    called = False

    def call(job: Job) -> Job:
        nonlocal called
        called = bool(job.queue) and _silent(job) and job.tries < MOST_TRIES
        if called:
            return replace(job, worker="", heard=time.time(), tries=job.tries + 1)
        return _next(job, CUT_OFF) if job.queue and _silent(job) else job

    job = jobs.change(household, call)
    if called:
        workers.start(household)
    elif job.queue and _silent(job):
        return take_up(household)  # the next in the queue
    return job


def stop(household: Household) -> None:
    """Stop what is being planned; the best so far is kept. Where nobody has begun, it is dropped."""
    jobs.change(household, lambda job: replace(job, stop=True) if job.worker and not _silent(job) else _next(job, ""))


def clear(household: Household) -> None:
    """Forget a complaint that was shown."""
    jobs.change(household, lambda job: replace(job, complaint="") if job.queue else jobs.NOTHING)


def _silent(job: Job) -> bool:
    return abs(time.time() - job.heard) > LOST_S  # a clock set back must not keep a dead worker alive


def _next(job: Job, complaint: str) -> Job:
    """Go on to what was asked for next."""
    return Job(queue=job.queue[1:], complaint=complaint)


def work(household: Household) -> int:
    """The worker's life: plan what was asked for until nothing is left or another worker has it; returns how many."""
    worker, done = secrets.token_hex(8), 0
    while asked := _taken(household, worker):
        complaint = _planned(household, worker, asked)
        jobs.change(household, partial(_finished, worker, complaint))
        done += 1
    return done


def _taken(household: Household, worker: str) -> Asked | None:
    """Take the first up, unless somebody works on it."""

    def claim(job: Job) -> Job:
        if not job.queue or (job.worker and not _silent(job)):
            return job
        now = time.time()
        return replace(
            job, worker=worker, began=now, heard=now, tries=max(1, job.tries), value=None, best_possible=None
        )

    job = jobs.change(household, claim)
    return job.queue[0] if job.worker == worker else None


def _finished(worker: str, complaint: str, job: Job) -> Job:
    return _next(job, complaint) if job.worker == worker else job


def _planned(household: Household, worker: str, asked: Asked) -> str:
    """Plan it and keep the proposal; returns what to tell the cook where that could not be."""
    with _Beat(household, worker) as beat:
        try:
            plan_days.make(
                household,
                asked.first,
                asked.now,
                days=asked.days,
                seconds=asked.seconds,
                keep=asked.keep,
                refuse=asked.refuse,
                progress=beat.told,
                cancel=beat.stop.is_set,
            )
        except ChaukaError as error:
            return str(error)
        except Exception as error:  # noqa: BLE001 - the worker's outermost boundary: the cook is told, the queue goes on
            return f"A fault of chauka itself kept this plan from being made ({type(error).__name__})."
    return ""


class _Beat:
    """Lets itself be heard of every second, with how far the planning is, and hears whether to stop."""

    def __init__(self, household: Household, worker: str) -> None:
        self.household, self.worker = household, worker
        self.value: float | None = None
        self.bound: float | None = None
        self.stop, self._over = threading.Event(), threading.Event()
        self._thread = threading.Thread(target=self._run, name="beat", daemon=True)

    def told(self, _seconds: float, value: float, bound: float) -> None:
        """What the planner reports as it goes."""
        self.value, self.bound = (number if math.isfinite(number) else None for number in (value, bound))

    def _run(self) -> None:
        try:
            while not self._over.wait(BEAT_S):
                job = jobs.change(self.household, self._heard)
                if job.worker != self.worker or job.stop:
                    self.stop.set()
        finally:
            connection.close()

    def _heard(self, job: Job) -> Job:
        if job.worker != self.worker:
            return job
        return replace(job, heard=time.time(), value=self.value, best_possible=self.bound)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(self, _: type[BaseException] | None, __: BaseException | None, ___: TracebackType | None) -> None:
        self._over.set()
        self._thread.join()
