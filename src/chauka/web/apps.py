"""The pages as a Django application."""

from __future__ import annotations

from django.apps import AppConfig


class WebConfig(AppConfig):
    """Templates, static files and template tags of the pages."""

    name = "chauka.web"
    label = "web"
