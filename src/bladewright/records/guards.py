"""Append-only guards: the database itself refuses to change or remove what was written.

A migration that rebuilds a table drops its triggers without a word, so they are put back after every migration, and a
book without them is not written in.
"""

from django.apps import apps
from django.db import connection
from django.db.models import Model, UniqueConstraint


def tables() -> tuple[type[Model], ...]:
    """Every table of the book, in the order of dependence they were declared in."""
    return tuple(apps.get_app_config("records").get_models())


def _wanted() -> dict[str, str]:
    """Trigger name -> statement. A replacing insert counts as a removal and is refused as well."""
    wanted = {}
    for model in tables():
        table = model._meta.db_table
        for verb in ("update", "delete"):
            name = f"keep_{table}_{verb}"
            wanted[name] = (
                f'CREATE TRIGGER "{name}" BEFORE {verb.upper()} ON "{table}" '
                f"BEGIN SELECT RAISE(ABORT, 'the book only grows: {table}'); END"
            )
        name = f"keep_{table}_replace"
        same = " OR ".join(
            "(" + " AND ".join(f'"{column}" = NEW."{column}"' for column in columns) + ")" for columns in _unique(model)
        )
        wanted[name] = (
            f'CREATE TRIGGER "{name}" BEFORE INSERT ON "{table}" WHEN EXISTS (SELECT 1 FROM "{table}" WHERE {same}) '
            f"BEGIN SELECT RAISE(ABORT, 'already written: {table}'); END"
        )
    return wanted


def _unique(model: type[Model]) -> list[tuple[str, ...]]:
    """The columns no two rows may share."""
    single = [(field.column,) for field in model._meta.local_concrete_fields if field.unique]
    together = [
        tuple(str(model._meta.get_field(name).column) for name in rule.fields)  # type: ignore[union-attr]
        for rule in model._meta.constraints
        if isinstance(rule, UniqueConstraint)
    ]
    return single + together


def install_guards() -> None:
    """Put every guard in place, exactly as it should be."""
    found = _found()
    with connection.cursor() as cursor:
        for name, statement in _wanted().items():
            if found.get(name) == statement:
                continue
            if name in found:
                cursor.execute(f'DROP TRIGGER "{name}"')
            cursor.execute(statement)


def missing_guards() -> tuple[str, ...]:
    """Names of guards that are not there, or not as they should be."""
    found = _found()
    return tuple(sorted(name for name, statement in _wanted().items() if found.get(name) != statement))


def _found() -> dict[str, str]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        return dict(cursor.fetchall())
