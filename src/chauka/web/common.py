"""What all pages share: whose book, which moment, the sections, and how an error is shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import wraps
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext_noop as _

from chauka.errors import ChaukaError, InputError
from chauka.services import clock, first_run
from chauka.services.words import COINS_PER_UNIT
from chauka.store import books
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class Section:
    """One section of the way: its name in English, which the page translates, and the name of its address."""

    name: str
    url: str


SECTIONS = (
    Section(_("Market"), "market"),
    Section(_("Shelf"), "shelf"),
    Section(_("Bench"), "bench"),
    Section(_("Stove"), "stove"),
    Section(_("Table"), "table"),
    Section(_("Page"), "page"),
)

_SEASONS = (
    ((2, 3, 4), "spring"),
    ((5, 6), "summer"),
    ((7, 8, 9), "rains"),
    ((10, 11), "autumn"),
    ((12, 1), "winter"),
)
"""Months of the seasons as the plains and hills of north India know them; common practice, no source."""


def now() -> datetime:
    """This moment, or the day that the settings tell the pages to show."""
    return clock.now(settings.CHAUKA_TODAY or None)


def kitchen_clock() -> datetime:
    """This moment for what runs by the clock; on another day that is shown, the same hour of that day."""
    real = clock.now()
    return datetime.combine(now().date(), real.time()) if settings.CHAUKA_TODAY else real


def whose() -> Household:
    """The household whose book is open."""
    return books.household()


def frame(request: HttpRequest) -> dict[str, Any]:
    """Template context: the sections, the one that is open, and the season's accent."""
    here = request.resolver_match.url_name if request.resolver_match else ""
    month = now().month
    season = next(name for months, name in _SEASONS if month in months)
    return {"sections": SECTIONS, "here": (here or "").split("-")[0], "season_of_year": season}


def whole(said: str, field: str) -> int:
    """A whole number that somebody or some page said."""
    if not said.isascii() or not said.isdigit():
        raise InputError({field: (f"{said!r} is no whole number",)})
    return int(said)


def coins(said: str, field: str) -> int:
    """A sum of money as people write it (45, 45.50, Rs 1,200), in the smallest coin."""
    plain = said.replace(",", "").strip()
    for sign in ("Rs", "₹", "रु"):
        plain = plain.removeprefix(sign).strip()
    try:
        return round(float(plain) * COINS_PER_UNIT)
    except (ValueError, OverflowError):
        raise InputError({field: (f"{said!r} is no sum of money; write it as in 45 or 45.50",)}) from None


def in_words(error: InputError) -> str:
    """All complaints of an error as one line."""
    said = ((field, words) for field, complaints in error.fields.items() for words in complaints)
    return " ".join(f"{field}: {words}." if field else f"{words}." for field, words in said)


Page = Callable[..., HttpResponse]


def page(view: Page) -> Page:
    """A page whose errors are shown in words, with a way on, instead of a stack trace."""

    @wraps(view)
    def shown(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            _check_text(request)
            return view(request, *args, **kwargs)
        except ChaukaError as error:
            if first_run.is_empty():
                return redirect("begin")
            complaints = error.fields if isinstance(error, InputError) else {"": (str(error),)}
            return render(request, "complaint.html", {"complaints": complaints}, status=422)

    return shown


def _check_text(request: HttpRequest) -> None:
    """Refuse the one character that no text has and that PostgreSQL keeps in none."""
    sent = (request.GET, request.POST) if request.method == "POST" else (request.GET,)
    for field, values in (pair for form in sent for pair in form.lists()):
        if any("\0" in value for value in (field, *values)):
            raise InputError(
                {field.replace("\0", ""): ("holds a character (NUL) that cannot be written; type it anew",)}
            )


def ticked(request: HttpRequest, tick: Callable[[HttpRequest], None], then: str) -> HttpResponse:
    """Answer to a tick: to a script in JSON, to a form by going on to the page `then`."""
    by_script = not request.accepts("text/html")
    try:
        tick(request)
    except InputError as error:
        if by_script:
            return JsonResponse({"complaint": in_words(error)}, status=422)
        raise
    return JsonResponse({}) if by_script else redirect(then)
