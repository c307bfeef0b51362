"""Addresses: the pages, where they are installed."""

from __future__ import annotations

from django.apps import apps
from django.http import HttpRequest, HttpResponse
from django.urls import URLPattern, URLResolver, include, path

from chauka.site import gate
from chauka.site.health import health


def _no_pages(_: HttpRequest) -> HttpResponse:
    return HttpResponse("chauka runs; this build has no pages.", content_type="text/plain; charset=utf-8")


_door = [
    path("sign-in", gate.sign_in, name="sign-in"),
    path("sign-out", gate.sign_out, name="sign-out"),
    path("health", health, name="health"),
]
urlpatterns: list[URLPattern | URLResolver] = (
    [*_door, path("", include("chauka.web.urls"))]
    if apps.is_installed("chauka.web")
    else [*_door, path("", _no_pages, name="home")]
)
