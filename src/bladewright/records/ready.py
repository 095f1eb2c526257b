"""Makes Django ready, once, and hands out the tables. Services import the tables from here, in any order."""

import contextlib
import os
from collections.abc import Iterator
from typing import Any

import django
from django.apps import apps
from django.db import connections

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bladewright.settings")
if not apps.ready:
    django.setup()

from bladewright.records import models

__all__ = ["connect", "models", "own_connection"]


def connect(chosen: dict[str, Any]) -> None:
    """Point Django at one database, for every thread that connects from now on."""
    connections.close_all()
    connections.databases["default"] = connections.configure_settings({"default": chosen})["default"]
    with contextlib.suppress(AttributeError):  # this thread never asked anything of the one before
        del connections["default"]


@contextlib.contextmanager
def own_connection() -> Iterator[None]:
    """For a thread of our own: it connects when it first asks, and what it opened is closed when its work is done."""
    try:
        yield
    finally:
        connections.close_all()
