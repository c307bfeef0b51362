"""The store as a Django application."""

from django.apps import AppConfig


class StoreConfig(AppConfig):
    """Tables are named `store_…`."""

    name = "chauka.store"
    label = "store"
    default_auto_field = "django.db.models.BigAutoField"
