"""Makes Django ready, once, and hands out the tables. Services import the tables from here, in any order."""

import contextlib
import os
from typing import Any, Final

import django
from django.apps import apps
from django.db import connections

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bladewright.settings")
if not apps.ready:
    django.setup()

from bladewright.records import models

__all__ = ["connect", "models"]

_SQLITE: Final = "django.db.backends.sqlite3"
#: WAL lets people read while one writes; FULL: what was acknowledged survives a lost power supply
_WRITING: Final = "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA recursive_triggers=ON;"
_READING: Final = "PRAGMA query_only=ON;"


def connect(database: str, *, write: bool, wait_seconds: float) -> None:
    """Point Django at one database file, for every thread that connects from now on."""
    connections.close_all()
    chosen: dict[str, Any] = {
        "ENGINE": _SQLITE,
        "NAME": database,
        "OPTIONS": {
            "timeout": wait_seconds,
            "transaction_mode": "IMMEDIATE",
            "init_command": _WRITING if write else _READING,
        },
    }
    connections.databases["default"] = connections.configure_settings({"default": chosen})["default"]
    with contextlib.suppress(AttributeError):  # this thread never asked anything of the one before
        del connections["default"]
