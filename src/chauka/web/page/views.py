"""Page: dishes written up for others."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import get_language
from django.utils.translation import gettext_noop as _

from chauka.composition import Rule
from chauka.errors import InputError
from chauka.publishing import Language, Sheet
from chauka.services import dishes, nutrients, photos, prints
from chauka.services import page as service
from chauka.services.prints import season_name
from chauka.web.common import now, page, whose
from chauka.web.headers import with_its_styles

_LANGUAGES = {Language.ENGLISH: _("English"), Language.HINDI: _("Hindi")}
_LARGEST_NARRATION = 2_000_000  # bytes


@page
def choose(request: HttpRequest) -> HttpResponse:
    """Choose a dish to write up."""
    return render(request, "page/choose.html", {"dishes": dishes.catalogue(whose()), "lists": prints.LISTS})


@page
def sheet(_request: HttpRequest, dish: str) -> HttpResponse:
    """The sheet of one dish in the language of the pages, a whole page of its own for screen and print."""
    photo = photos.of_dish(whose(), dish)
    where = reverse("photo", args=[photo.digest, "page"]) if photo else ""
    return with_its_styles(service.write_up(whose(), dish, where, Language(get_language() or "en")).html)


@page
def data(_request: HttpRequest, dish: str) -> HttpResponse:
    """The page data of one dish (schema.org Recipe, JSON-LD)."""
    response = JsonResponse(
        service.write_up(whose(), dish).data, json_dumps_params={"ensure_ascii": False, "indent": 2}
    )
    response["Content-Type"] = "application/ld+json"
    return response


@page
def pack(request: HttpRequest, dish: str) -> HttpResponse:
    """Everything that is made of one dish, with its nutrition labels and previews of its cards."""
    household = whose()
    context = {
        "made": service.made_up(household, dish),
        "cards": service.card_list(household, dish),
        "labels": [nutrients.label(household, dish, rule) for rule in (Rule.FSSAI, Rule.FDA)],
        "papers": [
            (f"{paper}-{language}", paper.upper(), _LANGUAGES[language]) for paper in Sheet for language in Language
        ],
    }
    return render(request, "page/pack.html", context)


@page
def pack_zip(request: HttpRequest, dish: str) -> HttpResponse:
    """The whole pack as one archive; with a narration sent along, the film's files too."""
    sent = request.FILES.get("narration")
    narration = None
    if sent:
        if (sent.size or 0) > _LARGEST_NARRATION:
            raise InputError({"narration": ("is larger than two megabytes: give captions, not the film",)})
        try:
            narration = sent.read().decode("utf-8")
        except UnicodeDecodeError:
            raise InputError({"narration": ("is no UTF-8 text; save it as UTF-8",)}) from None
    made = service.pack_zip(whose(), dish, season=season_name(now().date()), narration=narration)
    return _file(made, f"{dish}.zip", "application/zip")


@page
def sheet_pdf(_request: HttpRequest, dish: str, paper: str) -> HttpResponse:
    """The sheet as PDF: `a4-en`, `a4-hi`, `a5-en`, `a5-hi`."""
    size, _, language = paper.partition("-")
    if size not in list(Sheet) or language not in list(Language):
        raise InputError({"sheet": (f"there is no sheet {paper!r}; there are a4-en, a4-hi, a5-en and a5-hi",)})
    made = service.sheet_pdf(whose(), dish, Sheet(size), Language(language), season_name(now().date()))
    return _file(made, f"{dish}-{paper}.pdf", "application/pdf", inline=True)


@page
def card(_request: HttpRequest, dish: str, card: str) -> HttpResponse:
    """One on-screen card as a drawing."""
    return HttpResponse(service.card_svg(whose(), dish, card), content_type="image/svg+xml")


@page
def booklet(_request: HttpRequest, kind: str) -> HttpResponse:
    """The season's dishes as `pdf` or `epub`."""
    day = now().date()
    made = prints.booklet_file(prints.bound(whose(), day), kind, day)
    return _file(made.data, made.name, "application/pdf" if kind == "pdf" else "application/epub+zip")


@page
def one_list(_request: HttpRequest, which: str) -> HttpResponse:
    """Market list, bench list, labels or the next run sheet as PDF."""
    made = prints.one_list(whose(), which, now())
    return _file(made.data, made.name, "application/pdf", inline=True)


@page
def calendar(_request: HttpRequest) -> HttpResponse:
    """The house's calendar feed, to subscribe to."""
    made = prints.calendar(whose(), now())
    return _file(made.data, made.name, "text/calendar; charset=utf-8", inline=True)


def _file(data: bytes, name: str, kind: str, *, inline: bool = False) -> HttpResponse:
    how = "inline" if inline else "attachment"
    return HttpResponse(data, content_type=kind, headers={"Content-Disposition": f'{how}; filename="{name}"'})
