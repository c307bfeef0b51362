"""Hand-written TOML, read key by key; what cannot be used is refused with the file and the key at fault."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date, time
from enum import StrEnum
from importlib.resources import files
from typing import TypeVar

from chauka.errors import Complaints, InputError
from chauka.units import Span

_Word = TypeVar("_Word", bound=StrEnum)
_Kind = TypeVar("_Kind")

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_DAILY = "daily"


def package_text(name: str) -> str:
    """The text of a data file that ships beside this module."""
    return files("chauka.demo").joinpath(name).read_text(encoding="utf-8")


def read_toml(text: str, file: str) -> Fields:
    """The top table of a TOML text; an `InputError` says where its grammar breaks."""
    try:
        return Fields(tomllib.loads(text), file)
    except tomllib.TOMLDecodeError as error:
        raise InputError({file: (f"is not TOML: {error}; mend that line",)}) from error


@contextmanager
def within(where: str) -> Iterator[None]:
    """Put `where` (the file and the entry) before every complaint raised inside."""
    try:
        yield
    except InputError as error:
        raise InputError(
            {f"{where}: {field}" if field else where: why for field, why in error.fields.items()}
        ) from error


class Fields:
    """One table of a file. Ask for each key, then `close`: it raises every complaint at once.

    Until `close` has passed, a value that was wrong is an empty one of its kind.
    """

    def __init__(self, values: Mapping[str, object], where: str) -> None:
        self.where = where
        self._values, self._asked = values, set[str]()
        self._bad = Complaints(where)

    def text(self, key: str, default: str | None = None) -> str:
        """A string."""
        return self._value(key, str, "a text in quotes", default, "")

    def whole(self, key: str, default: int | None = None) -> int:
        """A whole number."""
        return self._value(key, int, "a whole number", default, 0)

    def number(self, key: str, default: float | None = None) -> float:
        """A finite number."""
        number = float(self._value(key, (int, float), "a number", default, 0.0))
        if math.isfinite(number):
            return number
        self._bad.add(key, f"{number} is not a number to work with")
        return 0.0

    def number_or_none(self, key: str) -> float | None:
        """A number, or None where the key is left out."""
        return self.number(key) if self.has(key) else None

    def whole_or_none(self, key: str) -> int | None:
        """A whole number, or None where the key is left out."""
        return self.whole(key) if self.has(key) else None

    def flag(self, key: str, default: bool) -> bool:
        """True or false."""
        return self._value(key, bool, "true or false", default, default)

    def day(self, key: str) -> date:
        """A date, as in 2027-03-14."""
        return self._value(key, date, "a date such as 2027-03-14", None, date.min)

    def clock(self, key: str) -> time:
        """A time of day, as in 07:45:00."""
        return self._value(key, time, "a time such as 07:45:00", None, time.min)

    def word(self, key: str, kind: type[_Word], default: _Word | None = None) -> _Word:
        """A word of a closed list."""
        said = self.text(key, default)
        if said in list(kind):
            return kind(said)
        if key in self._values and said:
            self._bad.add(key, f"{said!r} is none of {', '.join(kind)}")
        return next(iter(kind))

    def words(self, key: str, kind: type[_Word]) -> frozenset[_Word]:
        """Several words of a closed list; none where the key is left out."""
        said = self.texts(key)
        for other in [w for w in said if w not in list(kind)]:
            self._bad.add(key, f"{other!r} is none of {', '.join(kind)}")
        return frozenset(kind(w) for w in said if w in list(kind))

    def weekdays(self, key: str) -> tuple[int, ...]:
        """The weekdays (0 = Monday) that a list names, "daily" for all seven; empty where the key is left out."""
        out = set[int]()
        for word in self.texts(key):
            if word == _DAILY:
                out.update(range(7))
            elif word in WEEKDAYS:
                out.add(WEEKDAYS.index(word))
            else:
                self._bad.add(key, f"{word!r} is no weekday; write {', '.join(WEEKDAYS)} or {_DAILY}")
        return tuple(sorted(out))

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of strings; empty where the key is left out."""
        return self._list(key, str, "a list of texts")

    def sayings(self, key: str) -> dict[str, str]:
        """A table of strings by name; empty where the key is left out."""
        found = self._value(key, dict, "a table of texts", {}, {})
        for name, said in found.items():
            self._bad.check(type(said) is str, key, f"{name} = {said!r} is not a text in quotes")
        return {name: said for name, said in found.items() if isinstance(said, str)}

    def span(self, key: str) -> Span:
        """A lowest and a highest number, `[20, 30]`, or one number for both."""
        self._asked.add(key)
        value = self._values.get(key)
        ends = value if isinstance(value, list) else [value, value]
        numbers = [
            float(end) for end in ends if isinstance(end, int | float) and type(end) is not bool and math.isfinite(end)
        ]
        if len(ends) == len(numbers) == 2 and numbers[0] <= numbers[1]:
            return Span(*numbers)
        self._bad.add(key, f"{value!r} is not the lowest and the highest number, as in [20, 30]")
        return Span(0.0, 0.0)

    def table(self, key: str) -> Fields:
        """A table inside this one; an empty one where the key is left out."""
        return Fields(self._value(key, dict, "a table", {}, {}), f"{self.where} {key}")

    def tables(self, key: str, named: str = "id") -> tuple[Fields, ...]:
        """The tables of a list of tables, each called by its `named` key, else by its number."""
        rows = self._list(key, dict, f"tables, each under [[{key}]]")
        return tuple(Fields(row, f"{self.where} {key} {row.get(named, n)}") for n, row in enumerate(rows, 1))

    def has(self, key: str) -> bool:
        """Whether the key is there."""
        self._asked.add(key)
        return key in self._values

    def complain(self, key: str, complaint: str) -> None:
        """Note that the value of a key cannot be used."""
        self._bad.add(key, complaint)

    def close(self) -> None:
        """Raise one `InputError` with all complaints; a key that nobody asked for is one of them."""
        for key in self._values.keys() - self._asked:
            self._bad.add(key, f"is no key here; the keys are {', '.join(sorted(self._asked))}")
        self._bad.raise_if_any()

    def _value(
        self, key: str, kind: type[_Kind] | tuple[type[_Kind], ...], what: str, default: _Kind | None, empty: _Kind
    ) -> _Kind:
        self._asked.add(key)
        if key not in self._values:
            self._bad.check(default is not None, key, f"is missing; give {what}")
            return empty if default is None else default
        value = self._values[key]
        kinds = kind if isinstance(kind, tuple) else (kind,)
        if isinstance(value, kinds) and type(value) in kinds:  # true is no number, a moment is no date
            return value
        self._bad.add(key, f"{value!r} is not {what}")
        return empty

    def _list(self, key: str, kind: type[_Kind], what: str) -> tuple[_Kind, ...]:
        values = self._value(key, list, what, [], [])
        self._bad.check(all(type(v) is kind for v in values), key, f"{values!r} is not {what}")
        return tuple(v for v in values if isinstance(v, kind))
