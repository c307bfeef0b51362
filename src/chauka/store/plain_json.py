"""JSON of files that others may have touched: read with care, faults named by their place, and summed."""

from __future__ import annotations

import hashlib
import json
import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NoReturn

from chauka.errors import InputError


def parse(data: bytes, name: str) -> dict[str, Any]:
    """The document in the bytes of a file; an `InputError` names the place of the first fault."""
    try:
        document = plain_of(data.decode("utf-8"))
    except UnicodeDecodeError as error:
        refuse(name, f"is no text in UTF-8: byte {error.start} is wrong")
    except json.JSONDecodeError as error:
        refuse(name, f"is damaged at line {error.lineno}, column {error.colno}: {error.msg}")
    except ValueError as error:
        refuse(name, str(error))
    if not isinstance(document, dict):
        refuse(name, "is not a dump of chauka")
    return document


_HUGE = re.compile(r"[eE]\+?\d{3}|\d{300}")
"""Where a number may stand that is too large to be one."""


def plain_of(text: str) -> Any:
    """The value of a JSON text; a `ValueError` where one of its numbers is none."""
    return json.loads(text, parse_constant=_no_number, parse_float=_finite if _HUGE.search(text) else None)


def _finite(said: str) -> float:
    return number if math.isfinite(number := float(said)) else _no_number(said)


def _no_number(said: str) -> NoReturn:
    raise ValueError(f"holds {said[:40]}, which is not a number")


def sum_of(section: Any) -> str:
    """The sum of a section's canonical text: keys sorted, no blanks; so the file may be set anew by other tools."""
    text = json.dumps(section, ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


@contextmanager
def shallow(name: str) -> Iterator[None]:
    """What is nested deeper than Python follows is refused like any other fault of a file."""
    try:
        yield
    except RecursionError:
        refuse(name, "is nested too deeply to be a dump of chauka")


def refuse(name: str, complaint: str) -> NoReturn:
    """Say what is wrong with a file, before anything was written."""
    raise InputError({name: (f"{complaint}. Nothing was changed",)})
