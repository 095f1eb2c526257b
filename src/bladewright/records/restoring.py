"""A record from its plain form: the way back from ``figures.plain``, for verdicts and sets kept in the book."""

import dataclasses
import datetime
import json
import types
import typing
from enum import StrEnum
from typing import Any, TypeVar

from bladewright.errors import BookDamaged

T = TypeVar("T")


def restored_text(kind: type[T], text: str) -> T:
    """The record of this kind whose canonical JSON was kept as ``text``."""
    try:
        value = json.loads(text)
    except ValueError:
        value = None
    return restored(kind, value)


def restored(kind: type[T], value: Any) -> T:
    """The record of this kind that ``value`` is the plain form of; ``BookDamaged`` if it is the form of none."""
    try:
        return typing.cast("T", _as(kind, value))
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        raise BookDamaged(
            f"what was kept is no {kind.__name__}: {error}",
            field=kind.__name__,
            allowed="the text as it was kept",
            fix="check the book; put back a backup",
        ) from error


def _as(kind: Any, value: Any) -> Any:
    origin = typing.get_origin(kind)
    if origin in (typing.Union, types.UnionType):
        if value is None:
            return None
        (inner,) = (part for part in typing.get_args(kind) if part is not type(None))
        return _as(inner, value)
    if origin is tuple:
        parts = typing.get_args(kind)
        if len(parts) == 2 and parts[1] is Ellipsis:
            return tuple(_as(parts[0], item) for item in value)
        return tuple(_as(part, item) for part, item in zip(parts, value, strict=True))
    if dataclasses.is_dataclass(kind) and isinstance(kind, type):
        hints = typing.get_type_hints(kind)
        # a field newer than the record has its default
        fields = [f for f in dataclasses.fields(kind) if f.name in value or f.default is dataclasses.MISSING]
        return kind(
            **{field.name: _as(hints[field.name], value[field.name]) for field in fields}
        )  # a new field: default
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return kind(value)
    if kind is datetime.date:
        return datetime.date.fromisoformat(value)
    if kind is float:  # canonical JSON writes 2.0 as 2
        return float(value)
    return value
