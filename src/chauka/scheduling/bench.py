"""The bench list: work ahead on its day and time, and the boxes it fills."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from chauka.kitchen import Form, Technique
from chauka.scheduling.sheet import Amount, first_clause, spoken_minutes


@dataclass(frozen=True, slots=True)
class Share:
    """What one cooking takes of a piece of work ahead: the dish's id, when it is served, grams (0: not weighed)."""

    dish: str
    at: datetime
    grams: float


@dataclass(frozen=True, slots=True)
class BenchEntry:
    """One piece of work ahead. `done_by` is when a wait may end, `needed` when cooking asks for it.

    `overdue` says that its proper time lies before the list begins. `steps` are (batch id, step id);
    `detail` is the dish's own instruction; `shares` say for which cookings it is.
    """

    start: datetime
    minutes: float
    hands_min: float
    technique: Technique
    text: str
    amounts: tuple[Amount, ...]
    foods: tuple[str, ...]
    dishes: tuple[str, ...]
    steps: tuple[tuple[str, str], ...]
    done_by: datetime
    needed: datetime
    detail: str = ""
    why: str = ""
    overdue: bool = False
    shares: tuple[Share, ...] = ()

    @property
    def end(self) -> datetime:
        """When the cook is free again; a wait goes on until `done_by`."""
        return self.start + timedelta(minutes=self.hands_min)

    @property
    def line(self) -> str:
        """As text: `Sat 21:00 · soak 200 g chickpeas for chickpea curry · 5 min · until Sun 07:00`."""
        waits = f" · until {self.done_by:%a %H:%M}" if self.minutes > self.hands_min + 30 else ""
        hands = f" · {spoken_minutes(self.hands_min)}" if self.hands_min else ""
        text = first_clause(self.text) if ": " in self.text else self.text
        late = " · should have begun already" if self.overdue else ""
        return f"{self.start:%a %H:%M} · {text}{hands}{waits}{late}"


@dataclass(frozen=True, slots=True)
class BoxLabel:
    """What to write on a box. `grams` None: not weighed yet; `use_by` None: not known, so ask nose and date."""

    name: str
    form: Form
    grams: float | None
    packed: date
    use_by: datetime | None
    why: str
    food: str | None = None
    dish: str | None = None
    for_dishes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BenchList:
    """Work ahead in the order of its time, and the boxes it fills."""

    start: date
    days: int
    entries: tuple[BenchEntry, ...]
    labels: tuple[BoxLabel, ...]

    def on(self, day: date) -> tuple[BenchEntry, ...]:
        """The work of one day."""
        return tuple(e for e in self.entries if e.start.date() == day)

    @property
    def done_steps(self) -> frozenset[tuple[str, str]]:
        """(batch id, step id) of every step that a run sheet need not show again."""
        return frozenset(step for e in self.entries for step in e.steps)

    def __iter__(self) -> Iterator[BenchEntry]:
        return iter(self.entries)
