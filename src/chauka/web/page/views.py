"""Page: dishes written up for others."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

from chauka.publishing import sheet_css
from chauka.services import dishes
from chauka.services import page as service
from chauka.web.common import page, whose
from chauka.web.headers import with_its_styles


@page
def choose(request: HttpRequest) -> HttpResponse:
    """Choose a dish to write up."""
    return render(request, "page/choose.html", {"dishes": dishes.catalogue(whose())})


@page
def sheet(_request: HttpRequest, dish: str) -> HttpResponse:
    """The sheet of one dish, a whole page of its own for screen and print."""
    return with_its_styles(service.write_up(whose(), dish).html)


@page
def data(_request: HttpRequest, dish: str) -> HttpResponse:
    """The page data of one dish (schema.org Recipe, JSON-LD)."""
    response = JsonResponse(
        service.write_up(whose(), dish).data, json_dumps_params={"ensure_ascii": False, "indent": 2}
    )
    response["Content-Type"] = "application/ld+json"
    return response


def style(_request: HttpRequest) -> HttpResponse:
    """The style of a sheet that stands inside a page."""
    return HttpResponse(sheet_css(), content_type="text/css; charset=utf-8", headers={"Cache-Control": "max-age=3600"})
