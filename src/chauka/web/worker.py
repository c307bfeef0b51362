"""What a browser asks for at the root: the worker that keeps pages for a market without a network, and the icon."""

from __future__ import annotations

from importlib import resources

from django.http import HttpRequest, HttpResponse, HttpResponsePermanentRedirect
from django.templatetags.static import static


def script(_request: HttpRequest) -> HttpResponse:
    """The service worker; at the root, so that it may answer for every page."""
    text = resources.files("chauka.web").joinpath("static/chauka/worker.js").read_text(encoding="utf-8")
    return HttpResponse(text, content_type="text/javascript; charset=utf-8", headers={"Cache-Control": "no-cache"})


def icon(_request: HttpRequest) -> HttpResponse:
    """Where browsers look for an icon that no page names."""
    return HttpResponsePermanentRedirect(static("chauka/leaf.svg"))
