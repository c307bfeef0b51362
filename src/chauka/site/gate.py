"""The door of shared pages: a device gives the house's pass phrase once, and stays signed in until it is signed out."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme, urlencode
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from chauka.services import clock, sharing
from chauka.web.api.guard import ROOT as API_ROOT
from chauka.web.api.problems import problem

COOKIE = "chauka_device"
_OPEN = ("sign-in", "health", "api:sign-in", "api:health")
"""What may be asked for without the phrase."""

Answer = Callable[[HttpRequest], HttpResponse]


class GateMiddleware:
    """Where the pages are shared, nobody sees one before the phrase was given."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if not settings.CHAUKA_SHARED or request.path in map(reverse, _OPEN) or _signed_in(request):
            return self.get_response(request)
        if request.path_info.startswith(API_ROOT):
            refused = problem(401, "give the pass phrase to /api/sign-in, and send its token")
            refused["WWW-Authenticate"] = "Bearer"
            return refused
        if request.method not in ("GET", "HEAD"):
            return HttpResponse("Give the pass phrase first.\n", status=403, content_type="text/plain; charset=utf-8")
        return redirect(f"{reverse('sign-in')}?{urlencode({'next': request.get_full_path()})}")


def _signed_in(request: HttpRequest) -> bool:
    token = request.COOKIES.get(COOKIE, "") or request.headers.get("Authorization", "").removeprefix("Bearer ")
    return bool(token) and sharing.is_signed_in(token, clock.now())


@never_cache
def sign_in(request: HttpRequest) -> HttpResponse:
    """Ask for the phrase; a wrong one is answered slowly, and after a few not at all for a while."""
    if not settings.CHAUKA_SHARED:
        return redirect("home")
    if request.method != "POST":
        return _asked(request)
    phrase, device = request.POST.get("phrase", ""), request.POST.get("device", "")
    knock = sharing.knock(str(request.META.get("REMOTE_ADDR", "")), phrase, device, clock.now())
    if knock.wait_s:
        answer = _asked(request, f"Too many tries. Wait {int(knock.wait_s // 60) + 1} minutes.", 429)
        answer["Retry-After"] = str(int(knock.wait_s) + 1)
        return answer
    if knock.token is None:
        return _asked(request, "That is not the pass phrase of this house.", 403)
    answer = redirect(_onward(request))
    answer.set_cookie(
        COOKIE,
        knock.token,
        max_age=sharing.DEVICE_DAYS * 86_400,
        httponly=True,
        samesite="Strict",
        secure=request.is_secure(),
    )
    return answer


def _asked(request: HttpRequest, complaint: str = "", status: int = 200) -> HttpResponse:
    return render(request, "site/sign_in.html", {"complaint": complaint, "next": _onward(request)}, status=status)


def _onward(request: HttpRequest) -> str:
    """Where the device wanted to go: a page of ours, never another site's."""
    wished = request.POST.get("next") or request.GET.get("next") or ""
    ours = url_has_allowed_host_and_scheme(wished, allowed_hosts=None) and wished.startswith("/")
    return wished if ours else reverse("home")


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Forget this device."""
    sharing.sign_out(request.COOKIES.get(COOKIE, ""))
    answer = redirect("home")
    answer.delete_cookie(COOKIE, samesite="Strict")
    return answer
