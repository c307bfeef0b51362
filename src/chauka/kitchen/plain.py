"""Nouns ↔ plain JSON values, by their own type annotations: what is written reads back equal.

Every field is written under its own name (but for working material, which is kept out of the
repr too), sets sorted, dates as ISO 8601, enums by value. Reading
is strict: a missing, surplus or wrong value raises an `InputError` that names the place, as in
`dishes[3].lines[2].grams.mean`.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime, time, timedelta
from enum import Enum
from functools import cache
from pathlib import PurePath
from types import MappingProxyType, NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from chauka.errors import InputError

T = TypeVar("T")

NO_BOUND = "-inf"
"""How a bound that no search has found yet is written: JSON has no infinity."""


def to_plain(value: Any) -> Any:
    """The value as dicts, lists, strings, numbers, booleans and None."""
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, str | bool | int | float):
        return NO_BOUND if value == -math.inf else value
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: to_plain(getattr(value, f.name)) for f in fields(value) if f.repr}
    if isinstance(value, Mapping):
        return {str(to_plain(k)): to_plain(v) for k, v in value.items()}
    if isinstance(value, AbstractSet | Sequence):
        items = [to_plain(v) for v in value]
        return sorted(items) if isinstance(value, AbstractSet) else items
    return _scalar_to_plain(value)


def _scalar_to_plain(value: Any) -> Any:
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, timedelta):
        return value.total_seconds()
    if isinstance(value, PurePath):
        return str(value)
    raise TypeError(f"no plain form for {type(value).__name__}")


def to_text(value: Any, *, indent: int | None = None) -> str:
    """The value as JSON text with keys in the order of their fields."""
    return json.dumps(to_plain(value), ensure_ascii=False, allow_nan=False, indent=indent)


def from_plain(kind: type[T], plain: Any, where: str = "") -> T:
    """The value of type `kind` that `to_plain` wrote; `where` is the place named in complaints."""
    found: T = _read(kind, plain, where)
    return found


def _read(kind: Any, plain: Any, where: str) -> Any:
    origin = get_origin(kind)
    if origin is not None:
        return _read_composite(kind, origin, plain, where)
    if kind in _SCALARS:
        return _SCALARS[kind](plain, where)
    if is_dataclass(kind):
        return _read_noun(kind, plain, where)
    return _read_word(kind, plain, where)


def _read_composite(kind: Any, origin: Any, plain: Any, where: str) -> Any:
    if origin in (Union, UnionType):
        return _read_optional(kind, plain, where)
    if issubclass(origin, Mapping):
        of_key, of_value = get_args(kind)
        _expect(isinstance(plain, dict), where, "a list of names with values", plain)
        return MappingProxyType(
            {_read(of_key, k, where): _read(of_value, v, _join(where, k)) for k, v in plain.items()}
        )
    item = get_args(kind)[0]  # tuple[item, ...] or frozenset[item]
    _expect(isinstance(plain, list), where, "a list", plain)
    return origin(_read(item, one, f"{where}[{i}]") for i, one in enumerate(plain))


def _read_word(kind: type[Enum], plain: Any, where: str) -> Enum:
    words = [e.value for e in kind]
    _expect(isinstance(plain, str) and plain in words, where, f"one of {', '.join(words)}", plain)
    return kind(plain)


def _read_optional(kind: Any, plain: Any, where: str) -> Any:
    others = [k for k in get_args(kind) if k is not NoneType]
    if plain is None and len(others) < len(get_args(kind)):
        return None
    return _read(others[0], plain, where)


def _read_noun(kind: Any, plain: Any, where: str) -> Any:
    _expect(isinstance(plain, dict), where, f"a {kind.__name__.lower()}", plain)
    known, needed = _fields_of(kind)
    for name in plain:
        if name not in known:
            _complain(_join(where, name), f"is not known here; expected {', '.join(known)}")
    for name in needed:
        if name not in plain:
            _complain(_join(where, name), "is missing")
    values = {name: _read(known[name], value, _join(where, name)) for name, value in plain.items()}
    try:
        return kind(**values)
    except InputError as error:  # the noun's own checks: keep its words, add the place
        raise InputError({_join(where, field): words for field, words in error.fields.items()}) from None
    except ValueError as error:
        raise InputError({where: (str(error),)}) from None


@cache
def _fields_of(kind: type) -> tuple[Mapping[str, Any], tuple[str, ...]]:
    hints = get_type_hints(kind)
    all_fields = fields(kind)
    needed = tuple(f.name for f in all_fields if f.default is MISSING and f.default_factory is MISSING)
    return {f.name: hints[f.name] for f in all_fields}, needed


def _text(plain: Any, where: str) -> str:
    _expect(isinstance(plain, str), where, "a text", plain)
    return str(plain)


def _number(plain: Any, where: str) -> float:
    if plain == NO_BOUND:
        return -math.inf
    right = isinstance(plain, int | float) and not isinstance(plain, bool) and math.isfinite(plain)
    _expect(right, where, "a number", plain)
    return float(plain)


def _whole(plain: Any, where: str) -> int:
    _expect(isinstance(plain, int) and not isinstance(plain, bool), where, "a whole number", plain)
    return int(plain)


def _yes_no(plain: Any, where: str) -> bool:
    _expect(isinstance(plain, bool), where, "true or false", plain)
    return bool(plain)


def _iso(read: Callable[[str], Any], example: str) -> Callable[[Any, str], Any]:
    def reader(plain: Any, where: str) -> Any:
        _expect(isinstance(plain, str), where, f"as in {example}", plain)
        try:
            return read(plain)
        except ValueError:
            return _complain(where, f"{plain!r} should be as in {example}")

    return reader


def _anything(plain: Any, _: str) -> Any:
    return plain


_SCALARS: Mapping[Any, Callable[[Any, str], Any]] = {
    Any: _anything,
    str: _text,
    float: _number,
    int: _whole,
    bool: _yes_no,
    datetime: _iso(datetime.fromisoformat, "2027-03-14T18:30:00"),
    date: _iso(date.fromisoformat, "2027-03-14"),
    time: _iso(time.fromisoformat, "18:30:00"),
}


def _join(where: str, name: object) -> str:
    return f"{where}.{name}" if where and name else where or str(name)


def _expect(right: bool, where: str, expected: str, plain: Any) -> None:
    if not right:
        shown = json.dumps(plain, ensure_ascii=False, default=str)
        _complain(where, f"{shown if len(shown) <= 60 else shown[:57] + '…'} should be {expected}")


def _complain(where: str, complaint: str) -> None:
    raise InputError({where: (complaint,)})
