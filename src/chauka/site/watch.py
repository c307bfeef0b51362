"""What is known of a running server without knowing anything of the house: a log of requests.

Each line is one JSON object. It names the route (`shelf-log`), never the address that was asked for, as that may name a
dish, a lot or a person; never a form's words, a cookie or who asked.
"""

from __future__ import annotations

import json
import logging
import time
from collections.abc import Callable
from datetime import UTC, datetime

from django.http import HttpRequest, HttpResponse

log = logging.getLogger("chauka.request")


class WatchMiddleware:
    """Logs method, route, status and milliseconds of each request."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        begun = time.perf_counter()
        response = self.get_response(request)
        route = request.resolver_match.url_name if request.resolver_match else None
        facts = {
            "method": request.method,
            "route": route,
            "status": response.status_code,
            "ms": round(1000 * (time.perf_counter() - begun), 1),
        }
        log.log(logging.ERROR if response.status_code >= 500 else logging.INFO, "request", extra={"facts": facts})
        return response


class JsonLines(logging.Formatter):
    """One JSON object a line; of an exception its type and place alone, as its words may quote the book."""

    def format(self, record: logging.LogRecord) -> str:
        """The line of one record."""
        line = {
            "at": datetime.fromtimestamp(record.created, tz=UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "logger": record.name,
            **getattr(record, "facts", {}),
        }
        if record.exc_info and record.exc_info[1] is not None:
            line["fault"] = type(record.exc_info[1]).__name__
            line["where"] = _where(record.exc_info[1])
        return json.dumps(line, ensure_ascii=False)


def _where(error: BaseException) -> str:
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    return "" if trace is None else f"{trace.tb_frame.f_code.co_qualname}, line {trace.tb_lineno}"
