"""Copies of the book: take one, bring one in, look into it, put it in place; each step shows what the next does."""

from __future__ import annotations

from django.http import FileResponse, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.translation import gettext_noop as _
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.services import restoring as service
from chauka.store import copies
from chauka.web.common import now, page, whose

KINDS = {
    copies.DAILY: _("each day by itself"),
    copies.BY_HAND: _("by hand"),
    copies.BEFORE_RESTORE: _("before another was put in place"),
}


@page
def view(request: HttpRequest) -> HttpResponse:
    """The dated copies, and a form to bring a file in."""
    return _shown(request)


def _shown(request: HttpRequest, complaint: InputError | None = None) -> HttpResponse:
    listed = [(copy, KINDS.get(copy.label, copy.label.replace("-", " "))) for copy in service.there()]
    context = {"copies": listed, "complaints": complaint.fields if complaint else {}}
    return render(request, "house/copies.html", context, status=422 if complaint else 200)


@require_POST
@page
def take(_request: HttpRequest) -> HttpResponse:
    """Take a copy now."""
    service.take_copy(now())
    return redirect("house-copies")


def download(request: HttpRequest, name: str) -> HttpResponseBase:
    """One copy as a file."""
    try:
        path = service.path_of(name)
    except InputError as error:
        return _shown(request, error)
    return FileResponse(path.open("rb"), as_attachment=True, filename=path.name)


@page
def dump(_request: HttpRequest) -> HttpResponse:
    """Everything as one JSON file that any chauka reads."""
    named = f'attachment; filename="chauka-{now():%Y-%m-%d}.json"'
    data = service.as_dump(whose(), now())
    return HttpResponse(data, content_type="application/json", headers={"Content-Disposition": named})


@require_POST
@page
def bring_in(request: HttpRequest) -> HttpResponse:
    """A file that was chosen: checked at once, and shown before anything is replaced."""
    file = request.FILES.get("file")
    if file is None:
        return _shown(request, InputError({"file": ("choose a copy or a dump of chauka",)}))
    try:
        name = service.bring_in(file.chunks())
    except InputError as error:
        return _shown(request, error)
    return redirect("house-copy", name=name)


@page
def look(request: HttpRequest, name: str) -> HttpResponse:
    """What a copy holds beside what there is now."""
    held = service.look_into(name)
    return render(request, "house/copy.html", {"held": held, "beside": service.beside_now(held)})


@require_POST
@page
def put(request: HttpRequest, name: str) -> HttpResponse:
    """Put it in place; the book as it was is copied first, and can be put back in the same way."""
    before = service.put_in_place(name, now())
    return render(request, "house/put_back.html", {"before": before})
