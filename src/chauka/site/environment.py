"""What the environment may set, read loudly: a wrong value stops the start and says what was expected."""

from __future__ import annotations

import os
from collections.abc import Mapping

from django.core.exceptions import ImproperlyConfigured

_YES, _NO = {"1", "yes", "true", "on"}, {"0", "no", "false", "off", ""}


def text(name: str, default: str = "", environ: Mapping[str, str] = os.environ) -> str:
    """A text, blanks around it taken away."""
    return environ.get(name, default).strip()


def flag(name: str, *, default: bool = False, environ: Mapping[str, str] = os.environ) -> bool:
    """Yes or no."""
    value = environ.get(name)
    if value is None:
        return default
    word = value.strip().lower()
    if word not in _YES | _NO:
        raise ImproperlyConfigured(f"{name}={value!r}: write yes or no")
    return word in _YES


def words(name: str, default: tuple[str, ...] = (), environ: Mapping[str, str] = os.environ) -> list[str]:
    """Texts between commas."""
    value = environ.get(name)
    return list(default) if value is None else [word.strip() for word in value.split(",") if word.strip()]
