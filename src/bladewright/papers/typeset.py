"""From plain data and a template to PDF bytes. Data reaches the template as JSON, never as markup."""

import datetime
import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any, Final

import typst

from bladewright.errors import BadInput
from bladewright.papers.letters import FONT_FOLDER, printable

#: archival (ISO 19005-2 level A) and readable by a screen reader (ISO 14289-1), both at once
STANDARDS: Final = ("a-2a", "ua-1")


@cache
def _template(name: str) -> bytes:
    return (files("bladewright.papers") / "templates" / name).read_bytes()


@cache
def _fonts() -> Any:
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONT_FOLDER)])


def _shown(value: Any) -> Any:
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, Mapping):
        return {key: _shown(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_shown(item) for item in value]
    return value


def utc(moment: datetime.datetime, field: str) -> datetime.datetime:
    """The moment in UTC; a time without a zone is refused, because a paper must not guess when it was."""
    if moment.tzinfo is None:
        raise BadInput("has no time zone", field=field, value=moment.isoformat(), fix="give a time with its zone")
    return moment.astimezone(datetime.UTC).replace(microsecond=0)


def pdf(template: str, data: Mapping[str, Any], pictures: Mapping[str, bytes], dated: datetime.datetime) -> bytes:
    """A PDF/A-2a and PDF/UA-1 paper, dated with the moment given."""
    moment = utc(dated, "dated")
    stamp = {name: getattr(moment, name) for name in ("year", "month", "day", "hour", "minute", "second")}
    sources: dict[str, bytes] = {
        "main.typ": _template(template),
        "frame.typ": _template("frame.typ"),
        "data.json": json.dumps(_shown({**data, "stamp": stamp}), allow_nan=False).encode(),
        **pictures,
    }
    made: bytes = typst.compile(
        sources,
        format="pdf",
        font_paths=_fonts(),
        ignore_system_fonts=True,
        pdf_standards=list(STANDARDS),
        timestamp=moment,
    )
    return made
