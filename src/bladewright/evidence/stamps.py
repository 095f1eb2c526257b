"""Text stamps to microseconds by the declared format: quick for a whole column, careful for one cell."""

import datetime
import re
from dataclasses import dataclass
from typing import Final

import numpy as np
import polars as pl
from numpy.typing import NDArray

from bladewright.errors import BadInput

Micros = NDArray[np.int64]
EPOCH: Final = datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)
MICROSECOND: Final = datetime.timedelta(microseconds=1)
#: no logger wrote before, and nothing a shop reads lies after; a slipped digit in the year falls outside
FIRST_YEAR, LAST_YEAR = 1900, 2199

#: directive -> what its text must look like. Two-digit years are left out: the century would be a guess.
_DIRECTIVES: Final[dict[str, str]] = {
    "%Y": r"\d{4}", "%m": r"\d{1,2}", "%d": r"\d{1,2}", "%b": r"[A-Za-z]{3}", "%H": r"\d{1,2}", "%I": r"\d{1,2}",
    "%p": r"[AaPp][Mm]", "%M": r"\d{2}", "%S": r"(?P<second>\d{2})", "%z": r"(?:[Zz]|[+-]\d{2}:?\d{2})",
}  # fmt: skip
_FRACTION: Final = r"(?P<fraction>\.\d{1,9})?"  # ".%f"; a clock on the full second often writes no fraction
_UNKNOWN_OFFSET: Final = r"-00:?00$"
_FIRST, _LAST = (
    (datetime.datetime(year, 1, 1, tzinfo=datetime.UTC) - EPOCH) // MICROSECOND for year in (FIRST_YEAR, LAST_YEAR + 1)
)
_TOKEN: Final = re.compile(r"\.%f|%.|[^%]", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Stamp:
    """One stamp read: microseconds since 1970 as written (UTC where the stamp has its offset)."""

    micros: int
    leap_second: bool = False


def check_format(form: str, offset: bool) -> None:
    """``BadInput`` unless the format gives a whole date and time, with an offset exactly if one is declared."""
    written = [token for token in _TOKEN.findall(form) if "%" in token]
    directives = set(written)
    doubled = {token for token in written if written.count(token) > 1}
    doubled |= {both for both in ("%m %b", "%H %I", "%H %p") if set(both.split()) <= directives}
    unknown = directives - set(_DIRECTIVES) - {".%f"}
    lacking = {"%Y", "%d", "%M"} - directives
    lacking |= set() if directives & {"%m", "%b"} else {"%m"}
    lacking |= set() if "%H" in directives or {"%I", "%p"} <= directives else {"%H"}
    allowed = "made of " + " ".join((*_DIRECTIVES, ".%f")) + '; %z only with the zone "offset in file"'
    if unknown or lacking or doubled or ("%z" in directives) != offset:
        parts = [f"does not know {' '.join(sorted(unknown))}"] if unknown else []
        parts += [f"lacks {' '.join(sorted(lacking))}"] if lacking else []
        parts += [f"says twice {' '.join(sorted(doubled))}"] if doubled else []
        parts += ["and the zone disagree about an offset"] if ("%z" in directives) != offset else []
        raise BadInput(
            f"the time format {form!r} " + ", ".join(parts), value=form, allowed=allowed, fix="complete the format"
        )


def _pattern(form: str, strict: bool = False) -> str:
    """What a stamp must look like; ``strict`` leaves out a second called 60, which a number cannot hold."""
    parts = []
    for token in _TOKEN.findall(form):
        if token == ".%f":
            parts.append(_FRACTION)
        elif token.isspace():
            parts.append(f"[{token}]")
        elif token == "T":
            parts.append("[Tt]")  # RFC 3339 (2002), section 5.6, allows both
        elif token == "%S" and strict:
            parts.append(r"[0-5]\d")
        else:
            parts.append(_DIRECTIVES.get(token) or re.escape(token))
    return "^" + "".join(parts) + "$"


def whole_column(texts: pl.Series, form: str) -> tuple[Micros, NDArray[np.bool_]]:
    """Microseconds of every stamp, and which of them this quick way could not read (zero there)."""
    offset = "%z" in form
    quick = form.replace(".%f", "%.f").replace("%z", "%#z")
    text = pl.col("text").str
    stamp = text.to_datetime(quick, strict=False, time_unit="us", time_zone="UTC" if offset else None)
    shaped = text.contains(_pattern(form, strict=True))
    try:
        read = pl.DataFrame({"text": texts}).select(stamp.to_physical().alias("micros"), shaped.alias("sure"))
    except pl.exceptions.PolarsError:
        return np.zeros(len(texts), dtype=np.int64), np.ones(len(texts), dtype=bool)
    sure = read["sure"] & read["micros"].is_not_null()
    micros = read["micros"].fill_null(0).to_numpy()
    unsure = np.zeros(len(texts), dtype=bool) if sure.all() else ~sure.to_numpy()
    if len(texts) and (micros.min() < _FIRST or micros.max() > _LAST):
        unsure |= (micros < _FIRST) | (micros > _LAST)
    if offset:
        unsure |= texts.str.contains(_UNKNOWN_OFFSET).fill_null(True).to_numpy()
    return micros, unsure


def one_stamp(text: str, form: str) -> Stamp:
    """One stamp, carefully; ``BadInput`` says why it cannot be read."""
    text = text.strip()
    shape = re.compile(_pattern(form), re.ASCII)
    wrong = BadInput(
        f"{text!r} is not a time as declared",
        value=text,
        allowed=f"{form!r}, like {example(form)!r}",
        fix="mend the cell, or the format in the logger description",
    )
    found = shape.match(text)
    if found is None:
        raise wrong
    if "%z" in form and re.search(_UNKNOWN_OFFSET, text):
        raise BadInput(
            "the offset -00:00 says that the offset is not known",  # RFC 3339 (2002), section 4.3
            value=text,
            allowed="an offset like -05:00, or Z",
            fix="find out which offset the clock had",
        )
    parts = found.groupdict()
    leap = parts.get("second") == "60"
    plain, fraction = text, parts.get("fraction")
    if fraction:
        start, stop = found.span("fraction")
        plain = text[:start] + text[stop:]
    if leap:
        start, stop = found.span("second")
        plain = plain[:start] + "59" + plain[stop:]
    try:
        whole = datetime.datetime.strptime(plain.upper(), form.replace(".%f", ""))  # noqa: DTZ007
    except ValueError as error:
        raise wrong from error
    moment = whole if leap or not fraction else whole.replace(microsecond=int(fraction[1:7].ljust(6, "0")))
    if not FIRST_YEAR <= moment.year <= LAST_YEAR:
        raise wrong
    aware = moment if moment.tzinfo else moment.replace(tzinfo=datetime.UTC)
    # a leap second ends a day in UTC, and zones differ from UTC by quarters of an hour
    utc = aware.astimezone(datetime.UTC)
    if leap and not (utc.minute % 15 == 14 if moment.tzinfo is None else (utc.hour, utc.minute) == (23, 59)):
        raise wrong
    micros = (aware - EPOCH) // MICROSECOND
    # most clocks cannot hold second 60; it is kept as the last microsecond before the next minute, so order holds
    return Stamp(micros + 999_999 if leap else micros, leap)


def example(form: str) -> str:
    """A stamp in the declared format, to show a person."""
    moment = datetime.datetime(2024, 4, 23, 16, 5, 9, tzinfo=datetime.UTC)
    return moment.strftime(form)
