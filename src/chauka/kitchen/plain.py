"""Nouns ↔ plain JSON values, by their own type annotations: what is written reads back equal.

Every field is written under its own name (but for working material, which is kept out of the
repr too), sets sorted, dates as ISO 8601, enums by value. Reading
is strict: a missing, surplus or wrong value raises an `InputError` that names the place, as in
`dishes[3].lines[2].grams.mean`.

A reader is built once for each type and knows no place: a fault collects it on its way out.
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
from typing import Any, NoReturn, TypeVar, Union, cast, get_args, get_origin, get_type_hints

from chauka.errors import InputError

T = TypeVar("T")
Reader = Callable[[Any], Any]

NO_BOUND = "-inf"
"""How a bound that no search has found yet is written: JSON has no infinity."""


def to_plain(value: Any) -> Any:
    """The value as dicts, lists, strings, numbers, booleans and None."""
    kind: Any = type(value)
    return _writer(kind)(value)


@cache
def _writer(kind: Any) -> Callable[[Any], Any]:
    """How values of this very type are written."""
    if is_dataclass(kind):
        names = tuple(f.name for f in fields(kind) if f.repr)
        return lambda noun: {name: to_plain(getattr(noun, name)) for name in names}
    for general, write in _WRITERS:
        if issubclass(kind, general):
            return write
    raise TypeError(f"no plain form for {kind.__name__}")


def _number_to_plain(value: float) -> Any:
    return NO_BOUND if value == -math.inf else value


_WRITERS: tuple[tuple[Any, Callable[[Any], Any]], ...] = (
    (Enum, lambda word: word.value),
    (float, _number_to_plain),
    ((str, int, NoneType), lambda value: value),
    (Mapping, lambda names: {str(to_plain(k)): to_plain(v) for k, v in names.items()}),
    (AbstractSet, lambda items: sorted([to_plain(item) for item in items])),
    (Sequence, lambda items: [to_plain(item) for item in items]),
    ((date, time), lambda moment: moment.isoformat()),
    (timedelta, lambda span: span.total_seconds()),
    (PurePath, str),
)


def to_text(value: Any, *, indent: int | None = None) -> str:
    """The value as JSON text with keys in the order of their fields."""
    return json.dumps(to_plain(value), ensure_ascii=False, allow_nan=False, indent=indent)


def from_plain(kind: type[T], plain: Any, where: str = "") -> T:
    """The value of type `kind` that `to_plain` wrote; `where` is the place named in complaints."""
    try:
        found: T = _reader(cast("Any", kind))(plain)
    except _MisfitError as misfit:
        raise InputError(misfit.inside(where).complaints) from None
    return found


class _MisfitError(Exception):
    """Complaints by place, seen from where reading has got to."""

    def __init__(self, complaints: Mapping[str, tuple[str, ...]]) -> None:
        super().__init__(complaints)
        self.complaints = complaints

    def inside(self, outer: str) -> _MisfitError:
        """The same, seen from one noun or list further out."""
        return _MisfitError({_join(outer, place): words for place, words in self.complaints.items()})


def _join(outer: str, inner: str) -> str:
    between = "." if outer and inner and not inner.startswith("[") else ""
    return f"{outer}{between}{inner}"


@cache
def _reader(kind: Any) -> Reader:
    origin = get_origin(kind)
    if origin in (Union, UnionType):
        return _optional_reader(kind)
    if origin is not None:
        return _mapping_reader(kind) if issubclass(origin, Mapping) else _list_reader(kind, origin)
    if kind in _SCALARS:
        return _SCALARS[kind]
    return _noun_reader(kind) if is_dataclass(kind) else _word_reader(kind)


def _optional_reader(kind: Any) -> Reader:
    read = _reader(next(k for k in get_args(kind) if k is not NoneType))
    if NoneType not in get_args(kind):
        return read
    return lambda plain: None if plain is None else read(plain)


def _mapping_reader(kind: Any) -> Reader:
    read_key, read_value = (_reader(k) for k in get_args(kind))

    def read(plain: Any) -> Any:
        if not isinstance(plain, dict):
            _wrong("a list of names with values", plain)
        found = {}
        for key, value in plain.items():
            try:
                found[read_key(key)] = read_value(value)
            except _MisfitError as misfit:
                raise misfit.inside(key) from None
        return MappingProxyType(found)

    return read


def _list_reader(kind: Any, origin: Any) -> Reader:
    read_item = _reader(get_args(kind)[0])  # tuple[item, ...] or frozenset[item]

    def read(plain: Any) -> Any:
        if not isinstance(plain, list):
            _wrong("a list", plain)
        found = []
        try:
            for item in plain:
                found.append(read_item(item))  # noqa: PERF401 - its length is the place of a fault
        except _MisfitError as misfit:
            raise misfit.inside(f"[{len(found)}]") from None
        return origin(found)

    return read


def _word_reader(kind: type[Enum]) -> Reader:
    words = {e.value: e for e in kind}
    expected = f"one of {', '.join(words)}"

    def read(plain: Any) -> Any:
        if not (isinstance(plain, str) and plain in words):
            _wrong(expected, plain)
        return words[plain]

    return read


def _noun_reader(kind: Any) -> Reader:
    hints, all_fields = get_type_hints(kind), fields(kind)
    needed = {f.name for f in all_fields if f.default is MISSING and f.default_factory is MISSING}
    readers = {f.name: _field_reader(f.name, hints[f.name]) for f in all_fields}
    a_noun = f"a {kind.__name__.lower()}"

    def read(plain: Any) -> Any:
        if not isinstance(plain, dict):
            _wrong(a_noun, plain)
        values = {}
        for name, value in plain.items():
            if name not in readers:
                raise _MisfitError({name: (f"is not known here; expected {', '.join(readers)}",)})
            try:
                values[name] = readers[name](value)
            except _MisfitError as misfit:
                raise misfit.inside(name) from None
        if len(values) < len(readers) and (missing := needed - values.keys()):
            raise _MisfitError({next(n for n in readers if n in missing): ("is missing",)})
        return _made(kind, values)

    return read


def _field_reader(name: str, hint: Any) -> Reader:
    """A bound is the only number that may not be found yet."""
    return _bound if name == "bound" and hint is float else _reader(hint)


def _made(kind: Any, values: Mapping[str, Any]) -> Any:
    try:
        return kind(**values)
    except InputError as error:  # the noun's own checks: keep its words
        raise _MisfitError(error.fields) from None
    except (ValueError, OverflowError) as error:
        raise _MisfitError({"": (str(error),)}) from None


def _text(plain: Any) -> str:
    return plain if isinstance(plain, str) else _wrong("a text", plain)


def _number(plain: Any) -> float:
    right = isinstance(plain, int | float) and not isinstance(plain, bool) and abs(plain) <= _LARGEST
    return float(plain) if right else _wrong("a number", plain)


def _bound(plain: Any) -> float:
    return -math.inf if plain == NO_BOUND else _number(plain)


def _whole(plain: Any) -> int:
    right = isinstance(plain, int) and not isinstance(plain, bool) and abs(plain) < _LARGEST_WHOLE
    return int(plain) if right else _wrong("a whole number", plain)


_LARGEST = 1.7e308
_LARGEST_WHOLE = 2**63  # what a database holds


def _yes_no(plain: Any) -> bool:
    return plain if isinstance(plain, bool) else _wrong("true or false", plain)


def _iso(read: Callable[[str], Any], example: str) -> Reader:
    expected = f"as in {example}"

    def reader(plain: Any) -> Any:
        if not isinstance(plain, str):
            _wrong(expected, plain)
        try:
            return read(plain)
        except ValueError:
            return _complain(f"{plain!r} should be {expected}")

    return reader


def _anything(plain: Any) -> Any:
    return plain


_SCALARS: Mapping[Any, Reader] = {
    Any: _anything,
    str: _text,
    float: _number,
    int: _whole,
    bool: _yes_no,
    datetime: _iso(datetime.fromisoformat, "2027-03-14T18:30:00"),
    date: _iso(date.fromisoformat, "2027-03-14"),
    time: _iso(time.fromisoformat, "18:30:00"),
}


def _wrong(expected: str, plain: Any) -> NoReturn:
    shown = json.dumps(plain, ensure_ascii=False, default=str)
    _complain(f"{shown if len(shown) <= 60 else shown[:57] + '…'} should be {expected}")


def _complain(complaint: str) -> NoReturn:
    raise _MisfitError({"": (complaint,)})
