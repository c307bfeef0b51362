"""Errors as problem details (RFC 9457): what was wrong, where, in the same words as everywhere."""

from __future__ import annotations

import json
import logging
from collections.abc import Callable, Iterable, Mapping, Sequence
from http import HTTPStatus
from typing import Any

from django.core.exceptions import RequestDataTooBig
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from ninja import NinjaAPI, Schema
from ninja.errors import HttpError, ValidationError

from chauka.errors import ChaukaError, InputError
from chauka.services import first_run

CONTENT_TYPE = "application/problem+json"


class Problem(Schema):
    """What was wrong. `complaints` are by field or place; an empty name is of the whole request."""

    type: str
    title: str
    status: int
    detail: str
    complaints: dict[str, list[str]]


class NotHereError(ChaukaError):
    """The address names something that this book has not."""


def found(key: str, there: Iterable[str], what: str) -> str:
    """The key itself, where it is there; else a `NotHereError` (404)."""
    if key not in there:
        raise NotHereError(f"there is no {what} {key!r} here")
    return key


def answers(*codes: int) -> dict[int | frozenset[int], Any]:
    """For an operation's list of answers: these, and those that any operation may give, are problems."""
    return {frozenset({400, 401, 403, 413, 415, 422, 500, 503, *codes}): Problem}


def problem(status: int, detail: str, complaints: Mapping[str, Sequence[str]] | None = None) -> HttpResponse:
    """An answer that says what was wrong."""
    body = {
        "type": f"urn:chauka:problem:{status}",
        "title": HTTPStatus(status).phrase,
        "status": status,
        "detail": detail,
        "complaints": {field: list(words) for field, words in (complaints or {}).items()},
    }
    return HttpResponse(
        json.dumps(body, ensure_ascii=False).encode("utf-8", "backslashreplace"),
        status=status,
        content_type=CONTENT_TYPE,
    )


def _refused(_: HttpRequest, error: ChaukaError) -> HttpResponse:
    if first_run.is_empty():
        return problem(409, "this book holds no house yet; open the pages once, or `chauka demo`")
    complaints = error.fields if isinstance(error, InputError) else {"": (str(error),)}
    return problem(422, str(error), complaints)


def _not_here(_: HttpRequest, error: ChaukaError) -> HttpResponse:
    return problem(404, str(error))


def _misshapen(_: HttpRequest, error: ValidationError) -> HttpResponse:
    complaints: dict[str, list[str]] = {}
    for one in error.errors:
        place = ".".join(str(part) for part in one["loc"][1:] if part != "said")
        complaints.setdefault(place, []).append(str(one["msg"]))
    return problem(422, "the request has not the shape that this address takes", complaints)


def _http(_: HttpRequest, error: HttpError) -> HttpResponse:
    if isinstance(error.__cause__, HttpError):  # what the parser says of a body
        error = error.__cause__
    return problem(error.status_code, str(error))


def _too_big(_: HttpRequest, _error: Exception) -> HttpResponse:
    return problem(413, "the request is larger than this server takes")


def _no_database(_: HttpRequest, error: Exception) -> HttpResponse:
    logging.getLogger("django.request").error("api", exc_info=error)
    return problem(503, "the book does not answer; do it again")


def _fault(_: HttpRequest, error: Exception) -> HttpResponse:
    logging.getLogger("django.request").error("api", exc_info=error)
    return problem(500, "this is a fault of chauka's, not yours")


_HANDLERS: tuple[tuple[type[Exception], Callable[[HttpRequest, Any], HttpResponse]], ...] = (
    (ChaukaError, _refused),
    (NotHereError, _not_here),
    (ValidationError, _misshapen),
    (HttpError, _http),
    (RequestDataTooBig, _too_big),
    (DatabaseError, _no_database),
    (Exception, _fault),
)


def answer_in_words(api: NinjaAPI) -> None:
    """Every error of an operation becomes a problem."""
    for kind, handler in _HANDLERS:
        api.add_exception_handler(kind, handler)
