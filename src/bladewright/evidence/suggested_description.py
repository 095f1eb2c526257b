"""A logger description suggested from one log. It never counts until a person has entered what is open and their name.

What the file proves or its words say is written down with the reason beside it. What it does not tell is ``OPEN``, with
what could be, and the reader of descriptions refuses it by field.
"""

import json
import re
from collections.abc import Sequence
from typing import Final

import numpy as np
import polars as pl

from bladewright import units
from bladewright.errors import SeveralBadInputs
from bladewright.evidence import stamps
from bladewright.evidence.description import KIND_OF_ROLE, OPEN, STILL_OPEN, parse_logger_description
from bladewright.evidence.first_look import Column, Look, Seen, is_number, looked_at
from bladewright.evidence.table import is_unit_of, unit_in_name
from bladewright.typed import hidden_letter

#: a whole word in a column's name -> its role; the trade's plain words (common practice, no source)
_ROLE_WORDS: Final = {
    "mould": "mould", "mold": "mould", "heater": "heater", "air": "air", "pressure": "pressure",
    "bladder": "pressure", "bondline": "bondline", "power": "power",
}  # fmt: skip
_SIDE_WORDS: Final = {"top": "top", "bottom": "bottom"}
_LIES_IN_A_ZONE: Final = frozenset(("mould", "heater", "bondline"))
_TIME_WORDS: Final = frozenset(("time", "elapsed", "seconds", "minutes", "hours", "timestamp"))
_KINDS: Final = ("temperature", "pressure", "power")
_PARTS: Final = (("%d", "%m", "%Y"), ("%m", "%d", "%Y"), ("%Y", "%m", "%d"), ("%Y", "%d", "%m"), ("%d", "%b", "%Y"))
_DATES: Final = (*(mark.join(parts) for mark in "/-. " for parts in _PARTS), "%b %d %Y")
#: the plainest first; the first that reads every stamp is taken, because they differ only in what they allow
_CLOCKS: Final = ("%H:%M:%S", "%H:%M", "%H:%M:%S.%f", "%I:%M:%S %p", "%I:%M %p")
_OFFSETS: Final = ("", "%z", " %z")
_THOUSAND: Final = re.compile(r"[+-]?\d{1,3}[.,]\d{3}")
_WORDS: Final = re.compile(r"[^\W\d_]+|\d+")
_THERMOCOUPLE_OR_KELVIN: Final = "K"
_SHOWN: Final = 40  # letters of the file's own text in a comment; our own choice


def suggested_description(data: bytes, file: str) -> str:
    """The text of a description that fits this log as far as it tells; ``BadInput`` where it holds no table."""
    look = looked_at(data, file)
    times = _time_columns(look.columns)
    others = [column for column in look.columns if column not in times]
    channels = [column for column in others if column.is_number]
    left = [column for column in others if not column.is_number]
    lines = [
        f"# Suggested from {_shown(file)}. NOT CONFIRMED: it is refused as long as an entry is {_quoted(OPEN)}.",
        "# Each guess has its reason beside it. Check every line at the logger, not only the open ones.",
        "format = 1",
        _open("name", "how the shop calls this logger"),
        _open("confirmed_by", "who checked every line below"),
        *_missing(channels),
        *_left_out(left),
        "",
        *_file(look, channels),
        "",
        *_rows(look),
        "",
        *_time(times, look),
    ]
    for column in channels:
        lines += ["", *_channel(column, look)]
    return "\n".join(lines) + "\n"


def still_open(text: str, file: str) -> tuple[str, ...]:
    """The fields of a suggested description that wait for a person."""
    try:
        parse_logger_description(text.encode("utf-8"), file)
    except SeveralBadInputs as refused:
        return tuple(str(error.field) for error in refused.errors if error.what == STILL_OPEN)
    return ()


def _quoted(text: str) -> str:
    """A text as TOML writes it, every letter that is not plain to see by its number."""
    if text.isprintable() and not hidden_letter(text):
        return json.dumps(text, ensure_ascii=False)
    plain = (c if c.isprintable() else f"\\U{ord(c):08X}" for c in json.dumps(text, ensure_ascii=False))
    return "".join(plain)


def _shown(text: str) -> str:
    return _quoted(text[:_SHOWN])


def _listed(texts: Sequence[str]) -> str:
    return "[" + ", ".join(map(_quoted, texts)) + "]"


def _guess(field: str, written: str, why: str) -> str:
    return f"{field} = {written}  # guess: {why}"


def _open(field: str, what: str) -> str:
    return f"{field} = {_quoted(OPEN)}  # OPEN: {what}"


def _seen(field: str, seen: Seen) -> str:
    if len(seen.values) == 1:
        return _guess(field, _quoted(seen.values[0]), seen.why)
    either = " or ".join(map(_quoted, seen.values))
    return _open(field, f"{either}; {seen.why}" if either else seen.why)


def _missing(channels: Sequence[Column]) -> list[str]:
    """Words that stand where numbers should."""
    words = sorted({cell for column in channels for cell in column.cells if not is_number(cell)})
    words = [word for word in words if not hidden_letter(word)]  # such a cell is spoilt, and the reader says so
    if not words:
        return []
    return [_guess("missing", _listed(words), "these stand among the numbers; take out any that is not 'no reading'")]


def _left_out(left: Sequence[Column]) -> list[str]:
    if not left:
        return []
    names = ", ".join(
        _shown(column.name or f"number {column.number}")
        + (f" (always {_shown(column.held[0])})" if len(set(column.held)) == 1 else "")
        for column in left
    )
    return [_guess("ignore_other_columns", "true", f"not numbers, so left out: {names}")]


def _file(look: Look, channels: Sequence[Column]) -> list[str]:
    lines = ["[file]", _seen("encoding", look.encoding), _seen("delimiter", look.delimiter)]
    lines.append(_seen("decimal_mark", _decimal_mark(look, channels)))
    if not look.ends_its_last_line:
        what = "the last line has no end. false if this logger never ends it; else the file was cut: export it again"
        lines.append(_open("last_line_end", what))
    return lines


def _decimal_mark(look: Look, channels: Sequence[Column]) -> Seen:
    if look.delimiter.values == ("comma",):
        return Seen(("point",), "a comma parts the cells, so it cannot mark decimals")
    numbers = [cell for column in channels for cell in column.cells if is_number(cell)]
    both = ("point", "comma")
    held = [name for name, mark in zip(both, ".,", strict=True) if any(mark in cell for cell in numbers)]
    if len(held) != 1:
        return Seen(both, "the numbers hold both" if held else "no number holds either")
    if all(_THOUSAND.fullmatch(cell) for cell in numbers if "." in cell or "," in cell):
        return Seen(both, f"a {held[0]} stands before three digits only, so it could mark thousands")
    return Seen((held[0],), f"no number holds a {both[1 - both.index(held[0])]}")


def _rows(look: Look) -> list[str]:
    lines = ["[table]"]
    if look.names_row is None:
        lines.append("# guess: no row of names, because no row of words stands above the numbers; columns go by number")
    else:
        lines.append(_guess("names_row", str(look.names_row), "the first row of words as wide as the table"))
    if look.units_row is not None:
        lines.append(_guess("units_row", str(look.units_row), "the row of words under the names"))
    lines.append(_guess("first_row", str(look.first_row), "the first row with numbers"))
    if look.lines_after:
        lines.append(_guess("ends_before", '""', f"a blank line, and {look.lines_after} lines after it ARE NOT READ"))
    return lines


def _time_columns(columns: Sequence[Column]) -> tuple[Column, ...]:
    """The one column of stamps, one of dates with one of clocks, or one of counted time; none if several could be."""
    stamped = [column for column in columns if column.has_date and column.has_clock]
    dates = [column for column in columns if column.has_date and not column.has_clock]
    clocks = [column for column in columns if column.has_clock and not column.has_date]
    if stamped or dates or clocks:
        if len(stamped) == 1 and not dates and not clocks:
            return tuple(stamped)
        return (dates[0], clocks[0]) if not stamped and len(dates) == len(clocks) == 1 else ()
    counted = [c for c in columns if c.is_number and _TIME_WORDS & {word.lower() for word in _WORDS.findall(c.name)}]
    return tuple(counted) if len(counted) == 1 else ()


def _time(times: Sequence[Column], look: Look) -> list[str]:
    zone = "the file does not say by whose clock"
    places = 'an IANA name like "America/Detroit"'
    if not times:
        return [
            "[time]",
            f"columns = {_listed([OPEN])}  # OPEN: no one column, or date and clock, is the time beyond doubt",
            _open("zone", f'{places}, "offset in file" or "elapsed"; {zone}'),
            _open("format", 'like "%d/%m/%Y %H:%M:%S"; for elapsed time take it out, and give unit = "s" or "min"'),
            _open("file_order_is_time_order", "true or false"),
        ]
    columns = f"columns = [{', '.join(_reference(column, look) for column in times)}]"
    if times[0].is_number and not times[0].has_date:
        counted = np.array([_as_float(cell) for cell in times[0].cells])
        return [
            "[time]",
            f"{columns}  # guess: numbers under a word for time",
            _open("zone", '"elapsed" if these count from a start, as they seem to'),
            _unit(times[0], ("time",)),
            _order(bool(np.all(np.diff(counted) > 0.0))),
        ]
    texts = pl.Series([" ".join(cells) for cells in zip(*(column.cells for column in times), strict=True)])
    fits = _formats(texts)
    offset = bool(fits) and all("%z" in form for form in fits)
    micros = [stamps.whole_column(texts, form)[0] for form in fits]
    why = {
        0: "no format that is known here reads every stamp; two-digit years are not accepted",
        1: "only this order of day and month reads every stamp",
    }.get(len(fits), "no stamp has a day above 12, so the file does not tell day from month")
    may = f'"offset in file", or {places}' if offset else places
    return [
        "[time]",
        f"{columns}  # guess: the cells look like dates and clocks",
        _open("zone", f"{may}; {zone}"),
        _seen("format", Seen(fits, why)),
        _order(bool(micros) and all(bool(np.all(np.diff(one) > 0)) for one in micros)),
    ]


def _formats(texts: pl.Series) -> tuple[str, ...]:
    """One format for each order of day and month that reads every stamp."""
    found: list[str] = []
    first = texts[:1]
    for date in _DATES:
        tries = (f"{date}{mark}{clock}{offset}" for mark in " T" for clock in _CLOCKS for offset in _OFFSETS)
        fits = (form for form in tries if _reads(first, form) and _reads(texts, form))
        found += [form for form in [next(fits, "")] if form]
    return tuple(found)


def _reads(texts: pl.Series, form: str) -> bool:
    return len(texts) > 0 and not bool(stamps.whole_column(texts, form)[1].any())


def _as_float(cell: str) -> float:
    return float(cell.replace(",", ".")) if is_number(cell) else float("nan")


def _order(increasing: bool) -> str:
    if increasing:
        return _guess("file_order_is_time_order", "true", "every time in this file is later than the one before")
    return _open("file_order_is_time_order", "true or false; this file does not show that each row is later")


def _reference(column: Column, look: Look) -> str:
    """By name where that is certain to be found, else by number."""
    once = [other.name for other in look.columns].count(column.name) == 1
    sure = column.name.isascii() or len(look.encoding.values) == 1
    return _quoted(column.name) if column.name and once and sure and column.name != OPEN else str(column.number)


def _channel(column: Column, look: Look) -> list[str]:
    words = [word.lower() for word in _WORDS.findall(column.name)]
    roles = sorted({_ROLE_WORDS[word] for word in words if word in _ROLE_WORDS})
    sides = sorted({_SIDE_WORDS[word] for word in words if word in _SIDE_WORDS})
    numbers = [word for word in words if word.isdecimal()]
    lines = ["[[columns]]", f"column = {_reference(column, look)}"]
    if len(roles) == 1:
        lines.append(_guess("role", _quoted(roles[0]), "a word in its name"))
    else:
        known = ", ".join((*KIND_OF_ROLE, "other (with its kind)"))
        told = " and ".join(roles)
        what = f"its name says {told}" if roles else "its name does not say"
        lines.append(_open("role", f"{what}; {known}; or take this column out"))
    if len(roles) == 1 and len(numbers) == 1:
        lines.append(_guess("zone", _quoted(numbers[0]), "the number in its name"))
    elif not roles or set(roles) & _LIES_IN_A_ZONE:
        lines.append(_open("zone", "the zone of the mould it lies in; or take this line out"))
    if len(roles) == 1 and len(sides) == 1:
        lines.append(_guess("side", _quoted(sides[0]), "a word in its name"))
    lines.append(_unit(column, (KIND_OF_ROLE[roles[0]],) if len(roles) == 1 else _KINDS))
    if look.units_row is not None and not column.label:
        lines.append(_guess("unit_label", '""', "the row of units says nothing of it"))
    return lines


def _unit(column: Column, kinds: Sequence[str]) -> str:
    """The unit the file itself gives, in its row of units or in brackets in the name."""
    in_name = unit_in_name(column.name)
    labels = sorted({label for label in (column.label, in_name) if label})
    said = {(kind, units.scale_and_zero(label, kind)): label for label in labels for kind in kinds
            if is_unit_of(label, kind)}  # fmt: skip
    told = " and ".join(map(_shown, labels))
    if len(said) != 1:
        return _open("unit", f"the file says {told}" if told else "the file does not say; find out, never try")
    (((kind, _), label),) = said.items()
    if label == in_name == _THERMOCOUPLE_OR_KELVIN and not column.label:
        return _open("unit", f"{_shown(label)} in the name may be kelvin, or the type of a thermocouple")
    gauge = "; if that is absolute pressure, take the column out" if kind == "pressure" else ""
    return _guess("unit", _quoted(label), f"the file says {told}{gauge}")
