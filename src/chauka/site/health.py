"""The health page, for whoever watches over the server."""

from __future__ import annotations

from dataclasses import asdict

from django.http import HttpRequest, HttpResponse, JsonResponse

from chauka.services import health as service


def health(_: HttpRequest) -> HttpResponse:
    """Whether the server runs, its book answers, and whoever plans is heard of; nothing of what is in the book."""
    found = service.view()
    return JsonResponse(asdict(found), status=200 if found.well else 503)
