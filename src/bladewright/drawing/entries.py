"""An entry of a drawing by its dotted field, list members counted from one, like ``doubler.bolts.2.radius``."""

from pydantic import BaseModel


def entry_at(record: object, field: str) -> object:
    """What is entered there; None where nothing is. What is only worked out from entries, a middle say, is no entry."""
    for name in field.split("."):
        if isinstance(record, tuple):
            record = record[int(name) - 1] if name.isdecimal() and 1 <= int(name) <= len(record) else None
        elif isinstance(record, BaseModel) and name in type(record).model_fields:
            record = getattr(record, name)
        else:
            return None
    return record


def number_at(record: object, field: str) -> float | None:
    """The number entered there, SI; None where there is none."""
    value = entry_at(record, field)
    return value if isinstance(value, float) else None
