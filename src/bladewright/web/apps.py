"""The desk as Django knows it; it has no tables."""

from django.apps import AppConfig


class Web(AppConfig):
    """No tables, so no migrations: everything that is kept is in the book."""

    name = "bladewright.web"
    label = "web"
