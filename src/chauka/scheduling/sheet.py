"""The run sheet: what to do when, with which hands, on which burner, and how late it may start."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from chauka.kitchen import Attention, Clash, Proof
from chauka.scheduling.jobs import KitchenProblem
from chauka.scheduling.schedule import Schedule

_SHORT_LINE, _LONG_LINE = 55, 90
"""An instruction of more letters than the second is cut at its first stop after so many as the first."""

_IN_MINUTES = 20
"""What is further away is said by the clock."""

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")

_STOP = re.compile(r"[.;:,]\s")


class Lane(StrEnum):
    """Where one looks for it on the sheet."""

    HANDS = "hands"
    BURNER = "burner"
    ASIDE = "aside"  # resting, soaking, standing


@dataclass(frozen=True, slots=True)
class Amount:
    """So many grams of a thing, for the portions cooked; `grams` is 0 for what is added to taste."""

    said: str
    grams: float

    def __str__(self) -> str:
        if self.grams <= 0:
            return self.said
        return f"{round(self.grams):,} g {self.said}" if self.grams >= 10 else f"{self.grams:.2g} g {self.said}"


@dataclass(frozen=True, slots=True)
class Entry:
    """One row of the run sheet.

    `dishes` and `steps` are dish ids and (dish id, step id) pairs; `cook` and `burner` count from 1.
    `latest` is how late it may start if everything before it went as planned and dinner shall still
    be as punctual. `tasks` are the scheduler's own ids.
    """

    start: datetime
    end: datetime
    lane: Lane
    text: str
    dishes: tuple[str, ...]
    steps: tuple[tuple[str, str], ...]
    tasks: tuple[str, ...]
    attention: Attention
    latest: datetime
    cook: int | None = None
    burner: int | None = None
    vessel: str | None = None
    amounts: tuple[Amount, ...] = ()
    until: str = ""
    why: str = ""
    wash: bool = False

    @property
    def minutes(self) -> float:
        """How long it takes [min]."""
        return (self.end - self.start).total_seconds() / 60

    @property
    def slack_min(self) -> float:
        """How many minutes it may start late [min]."""
        return (self.latest - self.start).total_seconds() / 60

    @property
    def hands(self) -> str:
        """Whose hands, as in `hands` or `hands 2`; empty where nobody stands by."""
        if self.attention is not Attention.HANDS_ON:
            return ""
        return "hands" if self.cook in (None, 1) else f"hands {self.cook}"

    @property
    def where(self) -> str:
        """Hands, burner and vessel, as in `hands · burner 2, wok`."""
        fire = f"burner {self.burner}" if self.burner else ""
        place = ", ".join(x for x in (fire, self.vessel or "") if x)
        return " · ".join(x for x in (self.hands, place) if x) or str(Lane.ASIDE)

    def spoken(self, now: datetime | None = None) -> str:
        """The row to be read aloud: `In two minutes, on burner 1, in the wok: gutke, turn. About eight minutes.`

        With `now` the time is said from there; without it by the clock.
        """
        fire = f", on burner {self.burner}" if self.burner else ""
        vessel = f", in the {self.vessel}" if self.vessel and not self.wash else ""
        lasts = f" {spoken_length(self.minutes)}." if self.minutes else ""
        look = " Look in now and then." if self.attention is Attention.NOW_AND_THEN else ""
        until = f" Until {self.until.rstrip('. ')}." if self.until else ""
        what = first_clause(self.text).rstrip(". ").replace(": ", ", ", 1)
        return f"{self._when(now)}{fire}{vessel}: {what}.{lasts}{look}{until}"

    def _when(self, now: datetime | None) -> str:
        if now is None:
            return f"At {self.start:%H:%M}"
        minutes = round((self.start - now).total_seconds() / 60)
        if minutes < 1:
            return "Now"
        return f"In {counted_minutes(minutes)}" if minutes <= _IN_MINUTES else f"At {self.start:%H:%M}"

    @property
    def line(self) -> str:
        """The row as text: `18:05 · hands · chop 300 g onion for dal and greens · 6 min`."""
        look = ", look in now and then" if self.attention is Attention.NOW_AND_THEN else ""
        return f"{self.start:%H:%M} · {self.where} · {first_clause(self.text)} · {spoken_minutes(self.minutes)}{look}"


@dataclass(frozen=True, slots=True)
class RunSheet:
    """One cooking session. `entries` is empty where no schedule exists; `clashes` then says why.

    `proof` is in minutes: the value and bound of the first goal that is not zero, and per goal its
    value and bound in `terms` (`"lateness"`, `"lateness bound"` …).
    """

    serve: datetime
    entries: tuple[Entry, ...]
    proof: Proof
    clashes: tuple[Clash, ...] = ()
    why: tuple[str, ...] = ()
    names: tuple[tuple[str, str], ...] = ()
    kitchen: KitchenProblem | None = field(default=None, repr=False, compare=False)
    schedule: Schedule | None = field(default=None, repr=False, compare=False)

    @property
    def starts_at(self) -> datetime:
        """When the cook begins."""
        return min((e.start for e in self.entries), default=self.serve)

    @property
    def hands_on_min(self) -> float:
        """Minutes of standing at it [min]."""
        return sum(e.minutes for e in self.entries if e.attention is Attention.HANDS_ON)

    def lane(self, lane: Lane, number: int = 1) -> tuple[Entry, ...]:
        """The entries of one lane: of one cook's hands, of one burner, or those that wait aside."""
        if lane is Lane.HANDS:
            return tuple(e for e in self.entries if e.cook == number)
        if lane is Lane.BURNER:
            return tuple(e for e in self.entries if e.burner == number)
        return tuple(e for e in self.entries if e.lane is lane)

    def __iter__(self) -> Iterator[Entry]:
        return iter(self.entries)

    def text(self) -> str:
        """The whole sheet as plain text."""
        head = f"Begin at {self.starts_at:%H:%M}, on the table at {self.serve:%H:%M}"
        rows = [head]
        for entry in self.entries:
            rows.append(entry.line)
            if entry.amounts and len(entry.dishes) == 1:
                rows.append(f"        {', '.join(str(a) for a in entry.amounts)}")
        rows += [f"– {line}" for line in self.why]
        rows += [f"! {', '.join(c.rules)}: {c.way_out}" for c in self.clashes]
        return "\n".join(rows)


def first_clause(text: str) -> str:
    """The beginning of a long instruction, up to a stop; the whole of it stands in `Entry.text`."""
    stops = [m.start() for m in _STOP.finditer(text) if m.start() >= _SHORT_LINE]
    return text[: stops[0]] if stops and len(text) > _LONG_LINE else text


def spoken_minutes(minutes: float) -> str:
    """`6 min`, `1½ min`, `1 h 20 min`."""
    whole, half = divmod(round(minutes * 2), 2)
    if whole >= 90 and not half:
        return f"{whole // 60} h {whole % 60} min" if whole % 60 else f"{whole // 60} h"
    return f"{whole or ''}{'½' if half else ''} min" if whole or half else "at once"


def spoken_length(minutes: float) -> str:
    """`About eight minutes`, `Half a minute`, `About 1 hour 20 minutes`."""
    if minutes < 0.75:
        return "Half a minute"
    hours, rest = divmod(round(minutes), 60)
    said = (f"{hours} hour{'s' if hours > 1 else ''}" if hours else "", counted_minutes(rest) if rest else "")
    return f"About {' '.join(part for part in said if part)}"


def counted_minutes(minutes: int) -> str:
    """`one minute`, `two minutes`, `15 minutes`."""
    number = _NUMBERS[minutes] if minutes < len(_NUMBERS) else str(minutes)
    return f"{number} minute{'' if minutes == 1 else 's'}"


def joined(names: list[str] | tuple[str, ...]) -> str:
    """`dal`, `dal and greens`, `dal, greens and rice`."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
