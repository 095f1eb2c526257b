"""A record from its plain form: the way back from ``figures.plain``, for verdicts and sets kept in the book."""

import dataclasses
import datetime
import types
import typing
from enum import StrEnum
from typing import Any, TypeVar

T = TypeVar("T")


def restored(kind: type[T], value: Any) -> T:
    """The record of this kind that ``value`` is the plain form of."""
    return typing.cast("T", _as(kind, value))


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
        return kind(**{field.name: _as(hints[field.name], value[field.name]) for field in dataclasses.fields(kind)})
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return kind(value)
    if kind is datetime.date:
        return datetime.date.fromisoformat(value)
    if kind is float:  # canonical JSON writes 2.0 as 2
        return float(value)
    return value
