"""The one place where the shells read the clock: wall time of the house, without a time zone."""

from __future__ import annotations

from datetime import UTC, date, datetime, time

from chauka.errors import InputError

MORNING = time(7)
"""The hour at which a day named without one is looked at, so that the same question has the same answer."""


def now(as_if: str | date | None = None) -> datetime:
    """This moment; or, to look at another day, that day at seven in the morning (or at the hour given).

    `as_if` is a date, or text as in `2027-03-14` or `2027-03-14T18:30`.
    """
    if not as_if:
        return datetime.now(tz=UTC).astimezone().replace(tzinfo=None, microsecond=0)
    if isinstance(as_if, str):
        return _read(as_if.strip())
    return as_if if isinstance(as_if, datetime) else datetime.combine(as_if, MORNING)


def _read(text: str) -> datetime:
    try:
        if len(text) == len("2027-03-14"):
            return datetime.combine(date.fromisoformat(text), MORNING)
        return datetime.fromisoformat(text).replace(tzinfo=None)
    except ValueError:
        raise InputError({"today": (f"{text!r} is no day; write it as in 2027-03-14",)}) from None
