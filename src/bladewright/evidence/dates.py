"""Dates of the shop: ISO 8601 only, because 03/04 is a different day on either side of an ocean."""

import datetime
import re
from typing import Annotated, Final

from pydantic import BeforeValidator

from bladewright.errors import BadInput
from bladewright.typed import as_custom

_ALLOWED: Final = "a date like 2026-03-04 (year-month-day)"
_SHAPES: Final = (
    (re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII), "%Y-%m-%d"),
    (re.compile(r"\d{4}-W\d{2}-[1-7]", re.ASCII), "%G-W%V-%u"),
    (re.compile(r"\d{4}-\d{3}", re.ASCII), "%Y-%j"),
)
_SLASHED: Final = re.compile(r"\d{1,2}[./-]\d{1,2}[./-]\d{2,4}", re.ASCII)


def iso_date(text: str) -> datetime.date:
    """A calendar date (2026-03-04), week date (2026-W10-3) or day of the year (2026-063)."""
    written = text.strip()
    for shape, form in _SHAPES:
        if shape.fullmatch(written):
            none = BadInput(
                f"{written!r} is no day of the calendar", value=text, allowed=_ALLOWED, fix="check the date"
            )
            try:
                day = datetime.datetime.strptime(written, form).date()  # noqa: DTZ007
            except ValueError as error:
                raise none from error
            if day.strftime(form) != written:  # day 366 of a common year would run into the next
                raise none
            return day
    fix = "write the year first"
    if _SLASHED.fullmatch(written):
        fix = "write year-month-day: the order of day and month cannot be known from this"
    raise BadInput(f"{written!r} is not an ISO date", value=text, allowed=_ALLOWED, fix=fix)


def _date(value: object) -> datetime.date:
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value
    try:
        return iso_date(str(value))
    except BadInput as error:
        raise as_custom(error) from error


Date = Annotated[datetime.date, BeforeValidator(_date)]
