"""Photos: given out by their sum, put on dishes and lots by a form, taken off again."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.services import photos as service
from chauka.services.picture import MOST_BYTES
from chauka.web.common import now, page, whose
from chauka.web.headers import HEADER

_FOREVER = "private, max-age=31536000, immutable"
"""What is known by its sum never changes."""


@page
def file(_request: HttpRequest, digest: str, size: str) -> HttpResponse:
    """One photo of this house as a JPEG, which is all that it can be taken for."""
    return HttpResponse(
        service.file(whose(), digest, size),
        content_type="image/jpeg",
        headers={
            "Cache-Control": _FOREVER,
            "Content-Disposition": f'inline; filename="{digest[:12]}-{size}.jpg"',
            "Cross-Origin-Resource-Policy": "same-origin",
            "X-Content-Type-Options": "nosniff",
            HEADER: "default-src 'none'; sandbox",
        },
    )


@require_POST
@page
def of_dish(request: HttpRequest, dish: str) -> HttpResponse:
    """Let a dish show the photo sent, or none."""
    if request.POST.get("do") == "take-off":
        service.take_off_dish(whose(), dish, now())
    else:
        service.put_on_dish(whose(), dish, _sent(request), request.POST.get("words", ""), now())
    return redirect("dishes-show", dish=dish)


@require_POST
@page
def of_lot(request: HttpRequest, lot: str) -> HttpResponse:
    """Let a lot on the shelf show the photo sent, or none."""
    if request.POST.get("do") == "take-off":
        service.take_off_lot(whose(), lot, now())
    else:
        service.put_on_lot(whose(), lot, _sent(request), request.POST.get("words", ""), now())
    return redirect("shelf")


def _sent(request: HttpRequest) -> bytes:
    """The bytes of the file sent; one that is too large is not even read."""
    sent = request.FILES.get("photo")
    if sent is None:
        raise InputError({"photo": ("choose a photo, or take one",)})
    if (sent.size or 0) > MOST_BYTES:
        raise InputError({"photo": (f"is larger than {MOST_BYTES // 1_000_000} MB; send it smaller",)})
    data: bytes = sent.read()
    return data
