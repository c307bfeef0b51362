"""A dish written back as the text of its file."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import MISSING, Field, fields
from functools import singledispatch
from typing import Any

from chauka.kitchen import Dish, Kept, Line, Step, Substitute
from chauka.units import Estimate, Span

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+\Z")
_LARGEST_WHOLE = 1e15  # beyond this a float is no longer every whole number


def dish_toml(dish: Dish) -> str:
    """The dish as TOML: what differs from the defaults, and the grams of every line.

    Reading it gives the same dish again, whatever the house's measures.
    """
    head = _set(dish, without=("lines", "steps", "kept"))
    blocks = [_written(head)]
    if dish.kept:
        blocks.append("[kept]\n" + _written(_set(dish.kept)))
    blocks += ["[[line]]\n" + _written(_line(line)) for line in dish.lines]
    blocks += ["[[step]]\n" + _written(_step(step)) for step in dish.steps]
    return "\n".join(blocks)


def _line(line: Line) -> dict[str, object]:
    values = _set(line, without=("grams", "substitutes"))
    values |= {"grams": line.grams.mean, "grams_sd": line.grams.sd}
    if line.substitutes:
        values["substitutes"] = [_set(one) for one in line.substitutes]
    return values


def _step(step: Step) -> dict[str, object]:
    values = _set(step, without=("after",))
    if step.after:
        values["after"] = [
            {"step": a.step, "min": a.min_lag_min} | ({} if a.max_lag_min is None else {"max": a.max_lag_min})
            for a in step.after
        ]
    return values


def _set(noun: Dish | Line | Step | Kept | Substitute, without: tuple[str, ...] = ()) -> dict[str, object]:
    """The noun's fields that do not hold their default."""
    named = {f.name: (getattr(noun, f.name), _default(f)) for f in fields(noun) if f.name not in without}
    return {name: value for name, (value, default) in named.items() if value != default}


def _default(field: Field[Any]) -> object:
    return field.default_factory() if field.default_factory is not MISSING else field.default


def _written(values: Mapping[str, object]) -> str:
    return "".join(f"{key} = {_value(value)}\n" for key, value in values.items())


@singledispatch
def _value(value: object) -> str:
    """One value in TOML."""
    return repr(value)


@_value.register
def _(value: bool) -> str:
    return str(value).lower()


@_value.register
def _(value: str) -> str:
    return json.dumps(str(value), ensure_ascii=False).replace("\x7f", "\\u007f")


@_value.register
def _(value: float) -> str:
    return f"{value:.0f}" if value.is_integer() and abs(value) < _LARGEST_WHOLE else repr(value)


@_value.register
def _(value: Estimate) -> str:
    return _value({"mean": value.mean, "sd": value.sd})


@_value.register
def _(value: Span) -> str:
    return _value((value.low, value.high))


@_value.register(Mapping)
def _(value: Mapping[str, object]) -> str:
    pairs = (f"{key if _BARE_KEY.match(key) else _value(key)} = {_value(inner)}" for key, inner in value.items())
    return f"{{ {', '.join(pairs)} }}"


@_value.register(frozenset)
def _(value: frozenset[str]) -> str:
    return _value(sorted(value))


@_value.register(list)
@_value.register(tuple)
def _(value: Iterable[object]) -> str:
    return f"[{', '.join(map(_value, value))}]"
