"""The edge of the API: what a page of another site could send is refused, and even a wrong method is told in JSON.

A browser says with every request that changes something where it comes from (`Origin`, `Sec-Fetch-Site`), and asks
before it sends JSON to another site; such a question is never answered here. So no form token is needed: a request
that changes something says that its body is JSON, or is of a method that no form has, and comes from no other site.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, NoReturn

from django.http import HttpRequest, HttpResponse
from ninja.errors import HttpError
from ninja.parser import Parser

from chauka.web.api.problems import problem

ROOT = "/api/"
_READING = frozenset({"GET", "HEAD"})
_OURS = frozenset({"same-origin", "none"})


class ApiMiddleware:
    """Looks at requests below `/api/` before anything else reads them."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if not request.path_info.startswith(ROOT):
            return self.get_response(request)
        response = _refusal(request) or self.get_response(request)
        if response.status_code == 405 and "Allow" in response:
            allowed = response["Allow"]
            response = problem(405, f"this address takes {allowed}")
            response["Allow"] = allowed
        response["Cache-Control"] = "no-store"
        return response


def _refusal(request: HttpRequest) -> HttpResponse | None:
    if request.method in _READING:
        return None
    if _from_elsewhere(request):
        return problem(403, "this request comes from a page of another site")
    return None


def _from_elsewhere(request: HttpRequest) -> bool:
    origin = request.headers.get("Origin")
    if origin is not None and origin != f"{request.scheme}://{request.get_host()}":
        return True
    return request.headers.get("Sec-Fetch-Site", "none") not in _OURS


class JsonParser(Parser):
    """Bodies in JSON that say so, and nothing else: no form of a page can send one."""

    def parse_body(self, request: HttpRequest) -> Any:
        """The body as plain values; numbers that are none are refused."""
        if request.content_type != "application/json":
            raise HttpError(415, "send JSON, with Content-Type: application/json")
        sent = json.loads(request.body, parse_constant=_no_number)
        if _holds_nul(sent):
            raise HttpError(422, "a text holds a character (NUL) that cannot be written")
        return sent


def _holds_nul(plain: Any) -> bool:
    """Whether a text in it holds the one character that PostgreSQL keeps in none."""
    if isinstance(plain, dict):
        return any(_holds_nul(name) or _holds_nul(value) for name, value in plain.items())
    return any(map(_holds_nul, plain)) if isinstance(plain, list) else isinstance(plain, str) and "\0" in plain


def _no_number(said: str) -> NoReturn:
    raise ValueError(said)
