"""What the house has learned, and unlearning or teaching it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.services import learned, taught
from chauka.services import lessons as service
from chauka.web.common import now, page, whose
from chauka.web.remember import remembered


@page
def view(request: HttpRequest) -> HttpResponse:
    """Lives, names, pots and prices that this house has taught."""
    household, moment = whose(), now()
    seen = remembered("lessons", household, moment, lambda: service.view(household))
    return render(request, "house/lessons.html", {"seen": seen})


@require_POST
@page
def change(request: HttpRequest) -> HttpResponse:
    """Forget a life or a name, teach a name, or take a price over."""
    household, moment, said = whose(), now(), request.POST
    if "forget" in said:
        learned.forget(household, said["forget"], moment)
    elif "unname" in said:
        service.forget_name(household, said["unname"], moment)
    elif "price" in said:
        service.take_price(household, said["price"], moment)
    elif "name" in said:
        taught.teach(household, said["name"], said.get("food", ""), moment)
    else:
        raise InputError({"lesson": ("say what to forget or to learn",)})
    return redirect("house-lessons")
