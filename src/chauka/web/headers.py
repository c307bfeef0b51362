"""What a page may load: only what this house itself serves; no script and no style written into the page."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

HEADER = "Content-Security-Policy"
OURS = (
    "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'"
)

_STYLE = re.compile(r"<style[^>]*>(.*?)</style>", re.DOTALL)


class ContentSecurityMiddleware:
    """Adds the policy to every answer that has none of its own."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if HEADER not in response:
            response[HEADER] = OURS
        return response


def with_its_styles(page: str) -> HttpResponse:
    """A page that carries its style within itself, to be kept as one file: exactly that style is allowed."""
    hashes = " ".join(f"'sha256-{_digest(style)}'" for style in _STYLE.findall(page))
    return HttpResponse(page, headers={HEADER: f"{OURS}; style-src 'self' {hashes}".rstrip()})


def _digest(text: str) -> str:
    return base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
