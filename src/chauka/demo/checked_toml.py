"""TOML read key by key: every value is checked, and everything that is wrong is told at once."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import TypeVar

from chauka.errors import InputError
from chauka.units import Span

_E = TypeVar("_E", bound=StrEnum)
_T = TypeVar("_T", str, bool, list[object], dict[str, object])
_Noun = TypeVar("_Noun")

_KINDS = {str: "a text", bool: "true or false", list: "a list", dict: "a table"}


class Faults:
    """What is wrong with one file, by place."""

    def __init__(self, where: str) -> None:
        self.where = where
        self._fields: dict[str, list[str]] = {}

    def add(self, place: str, complaint: str) -> None:
        """Remember one complaint; `place` is as in "line dal, amount"."""
        self._fields.setdefault(f"{self.where}, {place}" if place else self.where, []).append(complaint)

    def add_all(self, place: str, error: InputError) -> None:
        """Remember every complaint of an error that a noun raised."""
        for field, complaints in error.fields.items():
            for complaint in complaints:
                self.add(place, f"{field}: {complaint}" if field else complaint)

    def __len__(self) -> int:
        return sum(len(complaints) for complaints in self._fields.values())

    def raise_if_any(self) -> None:
        """Raise one `InputError` with everything that was wrong, if anything was."""
        if self._fields:
            raise InputError(self._fields)


class Table:
    """One table of a file. A getter that finds nothing usable notes a fault and returns a stand-in."""

    def __init__(self, values: Mapping[str, object], place: str, faults: Faults) -> None:
        self._values, self.place, self._faults = values, place, faults
        self._asked: set[str] = set()
        self._faults_before = len(faults)

    @property
    def sound(self) -> bool:
        """Whether nothing has been wrong since this table was opened."""
        return len(self._faults) == self._faults_before

    def fault(self, key: str, complaint: str) -> None:
        """Note that the value of a key cannot be used."""
        self._faults.add(f"{self.place}, {key}" if self.place else key, complaint)

    def has(self, key: str) -> bool:
        """Whether the key is there."""
        self._asked.add(key)
        return key in self._values

    def text(self, key: str, default: str | None = None) -> str:
        """A text; required where there is no default."""
        return self._get(key, str, default)

    def flag(self, key: str, default: bool = False) -> bool:  # noqa: FBT001, FBT002 - a getter's default
        """true or false; `default` where it is not there."""
        return self._get(key, bool, default)

    def number(self, key: str, default: float | None = None) -> float:
        """A number; required where there is no default."""
        if not self.has(key):
            if default is None:
                self.fault(key, "is missing; give a number")
            return default or 0.0
        return self._number(key, self._values[key])

    def whole(self, key: str, default: int | None = None) -> int:
        """A whole number; required where there is no default."""
        if not self.has(key):
            if default is None:
                self.fault(key, "is missing; give a whole number")
            return default or 0
        value = self._values[key]
        if isinstance(value, int) and not isinstance(value, bool):
            return value
        self.fault(key, f"{value!r} is not a whole number")
        return 0

    def choice(self, key: str, kind: type[_E], default: _E | None = None) -> _E:
        """A word of a closed list; required where there is no default."""
        words = ", ".join(kind)
        if not self.has(key):
            if default is None:
                self.fault(key, f"is missing; write one of: {words}")
            return default or next(iter(kind))
        value = self._values[key]
        if isinstance(value, str) and value in list(kind):
            return kind(value)
        self.fault(key, f"{value!r} is not one of: {words}")
        return next(iter(kind))

    def span(self, key: str) -> Span:
        """A lowest and a highest number, as in [20, 30], or one number for both."""
        if not self.has(key):
            self.fault(key, "is missing; write the lowest and the highest, as in [20, 30]")
            return Span(0.0, 0.0)
        value = self._values[key]
        ends = [self._number(key, end) for end in value] if isinstance(value, list) else [self._number(key, value)] * 2
        if len(ends) == 2 and ends[0] <= ends[1]:
            return Span(*ends)
        self.fault(key, f"{value!r} should be the lowest and the highest, as in [20, 30]")
        return Span(0.0, 0.0)

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts; empty where it is not there."""
        found = self._get(key, list, [])
        for one in found:
            if not isinstance(one, str):
                self.fault(key, f"{one!r} is not a text")
        return tuple(one for one in found if isinstance(one, str))

    def text_by_key(self, key: str) -> dict[str, str]:
        """A table of texts; empty where it is not there."""
        found = self._get(key, dict, {})
        for name, one in found.items():
            if not isinstance(one, str):
                self.fault(key, f"{name}: {one!r} is not a text")
        return {name: one for name, one in found.items() if isinstance(one, str)}

    def table(self, key: str) -> Table | None:
        """A table within this one."""
        return self._within(key, self._get(key, dict, {}), f"[{key}]") if self.has(key) else None

    def tables(self, key: str) -> tuple[Table, ...]:
        """A list of tables within this one; each is named by its `id`, or else by its number."""
        found = self._get(key, list, [])
        return tuple(self._within(key, one, f"{key} {_name(one, n)}") for n, one in enumerate(found, 1))

    def close(self) -> None:
        """Complain of every key that nobody asked for."""
        for key in self._values:
            if key not in self._asked:
                self.fault(key, f"is not known here; known are: {', '.join(sorted(self._asked))}")

    def build(self, make: Callable[[], _Noun]) -> _Noun | None:
        """Close the table and, if it is sound, build the noun; what the noun complains of is a fault here."""
        self.close()
        if not self.sound:
            return None
        try:
            return make()
        except InputError as error:
            self._faults.add_all(self.place, error)
            return None

    def _within(self, key: str, values: object, name: str) -> Table:
        if not isinstance(values, dict):
            self.fault(key, f"{values!r} should be a table")
            values = {}
        return Table(values, f"{self.place}, {name}" if self.place else name, self._faults)

    def _get(self, key: str, kind: type[_T], default: _T | None) -> _T:
        if not self.has(key):
            if default is None:
                self.fault(key, f"is missing; give {_KINDS[kind]}")
            return kind() if default is None else default
        value = self._values[key]
        if isinstance(value, kind):
            return value
        self.fault(key, f"{value!r} should be {_KINDS[kind]}")
        return kind() if default is None else default

    def _number(self, key: str, value: object) -> float:
        if isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value):
            return float(value)
        self.fault(key, f"{value!r} is not a number")
        return 0.0


def _name(values: object, number: int) -> str:
    named = values.get("id") if isinstance(values, dict) else None
    return str(named or number)


def parse(text: str, faults: Faults) -> Table:
    """The file as a table; a text that is no TOML is refused at once."""
    try:
        return Table(tomllib.loads(text), "", faults)
    except tomllib.TOMLDecodeError as error:
        raise InputError({faults.where: (f"cannot be read as TOML: {error}",)}) from None
