"""The tables of the book, for whoever must say something about each of them."""

from django.apps import apps
from django.db.models import Model


def guarded() -> tuple[type[Model], ...]:
    """Every table, in the order of dependence they were declared in."""
    return tuple(apps.get_app_config("records").get_models())
