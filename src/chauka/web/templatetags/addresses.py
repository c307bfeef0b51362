"""Addresses of many things on one page, each worked out once."""

from __future__ import annotations

from functools import lru_cache

from django import template
from django.urls import reverse

register = template.Library()


@register.filter
@lru_cache(maxsize=4096)
def at(key: str, view: str) -> str:
    """Where a view shows the thing of this key; for lists of hundreds, where asking anew each time takes longest."""
    return reverse(view, args=[key])
