"""Addresses: the pages, where they are installed."""

from __future__ import annotations

from django.apps import apps
from django.http import HttpRequest, HttpResponse
from django.urls import URLPattern, URLResolver, include, path


def _no_pages(_: HttpRequest) -> HttpResponse:
    return HttpResponse("chauka runs; this build has no pages.", content_type="text/plain; charset=utf-8")


urlpatterns: list[URLPattern | URLResolver] = (
    [path("", include("chauka.web.urls"))] if apps.is_installed("chauka.web") else [path("", _no_pages, name="home")]
)
