"""Append-only guards: the database itself refuses to change or remove what was written.

A migration that rebuilds a table drops its triggers without a word, so they are put back after every migration, and a
book without them is not written in.
"""

from django.db.models import Model

from bladewright.records import databases
from bladewright.records.databases.tables import guarded


def tables() -> tuple[type[Model], ...]:
    """Every table of the book, in the order of dependence they were declared in."""
    return guarded()


def install_guards() -> None:
    """Put every guard in place, exactly as it should be."""
    databases.in_use().after_migrating()


def missing_guards() -> tuple[str, ...]:
    """Names of guards that are not there, or not as they should be."""
    return databases.in_use().missing_guards()
