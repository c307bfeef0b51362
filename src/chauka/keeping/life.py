"""How long something keeps, which rule says so, and the moment that follows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

TABLE_TIME = time(12)
"""A whole day counts as usable when food may still be eaten at its noon."""

SENSES = "Smell and look do not show whether food is safe."
"""Said with every perishable food (common advice of food authorities, from memory)."""


@dataclass(frozen=True, slots=True)
class Life:
    """How long a food or dish keeps from now on in one place [day].

    `plan_days` is what a plan may count on; `low_days` to `high_days` is the range that the figures
    leave open, `mid_days` its middle. `reason` is one sentence for the cook, `rule` the short name
    of the rule that bound it, `source` where that rule comes from. `known` is False where nobody
    has published or stated a life and the most careful default stands in.
    """

    plan_days: float
    low_days: float
    mid_days: float
    high_days: float
    reason: str
    rule: str
    source: str
    known: bool = True
    cautions: tuple[str, ...] = ()

    def less(self, days: float) -> Life:
        """What is left after so many days [day]; never below 0."""
        return self._with(
            max(0.0, self.plan_days - days),
            max(0.0, self.low_days - days),
            max(0.0, self.mid_days - days),
            max(0.0, self.high_days - days),
            self.reason,
        )

    def times(self, share: float, reason: str) -> Life:
        """The same share of every figure, for another reason."""
        return self._with(
            share * self.plan_days, share * self.low_days, share * self.mid_days, share * self.high_days, reason
        )

    def _with(self, plan: float, low: float, mid: float, high: float, reason: str) -> Life:
        # Written out: dataclasses.replace takes four times as long, and a shelf has many lots.
        return Life(plan, low, mid, high, reason, self.rule, self.source, self.known, self.cautions)


@dataclass(frozen=True, slots=True)
class UseBy:
    """The last moment at which a lot should be eaten, local time, and why.

    The days count from the moment at which the lot came into its form and place.
    """

    at: datetime
    low_days: float
    mid_days: float
    high_days: float
    reason: str
    rule: str
    source: str
    cautions: tuple[str, ...] = ()
    known: bool = True


def cap(days: float, reason: str, *, rule: str, source: str) -> Life:
    """A fixed limit: no range, it simply ends there."""
    return Life(days, days, days, days, reason, rule, source)


def smallest(lives: Sequence[Life]) -> Life:
    """The life that binds: the shortest to plan with; no end of its range reaches past any other limit.

    Cautions of all of them are kept, and one unknown life leaves the answer unknown.
    """
    first = min(lives, key=lambda life: life.plan_days)
    return replace(
        first,
        low_days=min(life.low_days for life in lives),
        mid_days=min(life.mid_days for life in lives),
        high_days=min(life.high_days for life in lives),
        known=all(life.known for life in lives),
        cautions=tuple(dict.fromkeys(text for life in lives for text in life.cautions)),
    )


def use_by(life: Life, since: datetime) -> UseBy:
    """The moment at which a life that began at `since` ends."""
    return UseBy(
        since + timedelta(days=life.plan_days),
        life.low_days,
        life.mid_days,
        life.high_days,
        life.reason,
        life.rule,
        life.source,
        life.cautions,
        life.known,
    )


def last_day(use_by: UseBy | datetime) -> date:
    """The last day on which it may be planned: the last whose noon is not later than the use-by.

    A use-by in the morning therefore belongs to the day before.
    """
    at = use_by.at if isinstance(use_by, UseBy) else use_by
    return at.date() if at.time() >= TABLE_TIME else at.date() - timedelta(days=1)


def _halves(number: float) -> str:
    halves = round(number * 2)
    return f"{halves // 2}{'½' if halves % 2 else ''}"


def days_said(days: float) -> str:
    """A length of time as a cook says it: 40 minutes, 4 hours, 2½ days, 3 weeks, 4 months, 2 years."""
    minutes = days * 24 * 60
    if minutes < 90:
        return f"{minutes:.0f} minutes"
    if days < 1.25:
        return f"{days * 24:.0f} hours" if minutes >= 285 else f"{_halves(days * 24)} hours"
    if days < 21:
        return f"{_halves(days) if days < 6 else round(days)} days"
    if days < 75:
        return f"{days / 7:.0f} weeks"
    return f"{days / 30.44:.0f} months" if days < 700 else f"{days / 365.25:.0f} years"
