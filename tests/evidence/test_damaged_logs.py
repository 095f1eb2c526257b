"""Damage of any kind to a log: refused, or read to exactly what now stands there; never a traceback, never a guess.

The outside truth is a reader written here with nothing but the standard library.
"""

import csv
import datetime
import io
import math
import re
import zoneinfo
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput
from bladewright.evidence.cells import Wanted, careful, quick
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import LoggerDescription
from bladewright.evidence.table import locate
from bladewright.typed import validated

MISSING = ("open", "")
LINES = (
    "time,Z1,Z2,note",
    "2026-03-02 08:00:00,21.5,70.7,a",
    "2026-03-02 08:01:00,24.25,-3,b",
    "2026-03-02 08:02:30,open,75.125,",
    "2026-03-02 08:03:30,,1e2,c",
    "2026-03-02 09:59:59,121.0,250,d",
)
GOOD = "\n".join(LINES) + "\n"


def _description(missing: tuple[str, ...] = MISSING) -> LoggerDescription:
    table: dict[str, Any] = {
        "format": 1,
        "name": "damaged",
        "missing": list(missing),
        "ignore_other_columns": True,
        "file": {"encoding": "utf-8", "delimiter": "comma", "decimal_mark": "point"},
        "table": {"names_row": 1, "first_row": 2},
        "time": {
            "columns": ["time"],
            "format": "%Y-%m-%d %H:%M:%S",
            "zone": "America/New_York",
            "file_order_is_time_order": True,
        },
        "columns": [
            {"column": "Z1", "role": "mould", "unit": "degC"},
            {"column": "Z2", "role": "mould", "unit": "degF"},
        ],
    }
    return validated(LoggerDescription, table, "damaged.toml", "a logger description")


def _plainly(data: bytes) -> list[tuple[float, float, float]]:
    """Seconds since 1970 and kelvin, by the standard library alone; any oddity raises."""
    text = data.decode("utf-8").removeprefix("\ufeff")
    rows = [row for row in csv.reader(io.StringIO(text, newline="")) if row]
    zone = zoneinfo.ZoneInfo("America/New_York")
    read = []
    for row in rows[1:]:
        stamp, first, second, _ = (cell.strip() for cell in row)
        moment = datetime.datetime.strptime(stamp, "%Y-%m-%d %H:%M:%S").replace(tzinfo=zone)
        values = []
        for cell, scale, zero in ((first, 1.0, 273.15), (second, 5 / 9, 459.67 * 5 / 9)):
            if cell not in MISSING:
                assert re.fullmatch(r"[-+0-9.eE]+", cell)
            values.append(math.nan if cell in MISSING else float(cell) * scale + zero)
        read.append((moment.timestamp(), values[0], values[1]))
    return read


def _check(data: bytes) -> bool:
    """Whether the damaged log was still read; if so, to the plain reading."""
    try:
        log = read_cure_log(data, _description(), "damaged.csv")
    except BadInput:
        return False
    plain = _plainly(data)
    assert log.start is not None
    assert len(plain) == len(log.rows)
    np.testing.assert_allclose(log.start.timestamp() + log.seconds, [row[0] for row in plain], atol=1e-5)
    np.testing.assert_allclose(log.values, [row[1:] for row in plain], rtol=1e-12)
    return True


def test_the_undamaged_log_is_read() -> None:
    assert _check(GOOD.encode())
    assert _plainly(GOOD.encode())[0][0] == 1772456400.0  # 2026-03-02T13:00:00Z


@settings(max_examples=250, deadline=None)
@given(
    place=st.integers(0, len(GOOD) - 1),
    length=st.integers(0, 12),
    instead=st.one_of(
        st.text('0123456789.,-+eE\n\r\t;:" nainfopen', max_size=4),
        st.text(max_size=2),
    ),
)
def test_some_characters_replaced(place: int, length: int, instead: str) -> None:
    damaged = GOOD[:place] + instead + GOOD[place + length :]
    _check(damaged.encode("utf-8", errors="surrogatepass"))


@settings(max_examples=100, deadline=None)
@given(place=st.integers(0, len(GOOD) - 1), instead=st.binary(max_size=3), length=st.integers(0, 3))
def test_some_bytes_replaced(place: int, instead: bytes, length: int) -> None:
    _check(GOOD.encode()[:place] + instead + GOOD.encode()[place + length :])


@pytest.mark.parametrize("end", range(len(GOOD) - 1))
def test_cut_anywhere_but_between_two_lines_it_is_refused(end: int) -> None:
    whole_lines = GOOD[end - 1 : end] == "\n" and end > len(LINES[0]) + 1
    assert _check(GOOD.encode()[:end]) == whole_lines


@settings(max_examples=60, deadline=None)
@given(order=st.permutations(range(5)))
def test_rows_moved_about_are_refused(order: list[int]) -> None:
    moved = "\n".join([LINES[0], *(LINES[1 + i] for i in order)]) + "\n"
    assert _check(moved.encode()) == (order == sorted(order))


@settings(max_examples=60, deadline=None)
@given(data=st.binary(max_size=200))
def test_noise_is_refused(data: bytes) -> None:
    assert not _check(data)


CELL = st.one_of(
    st.floats(-200, 400).map(lambda x: f"{x:.3f}"),
    st.floats(0, 1e5).map(repr),
    st.sampled_from(
        ["open", "", " ", "nan", "inf", "1e400", ".5", "5.", "+3", " 4", "5 ", "-", "1,2", "x", '"7"', "0x1"]
    ),
)


@settings(max_examples=200, deadline=None)
@given(
    rows=st.lists(st.lists(CELL, min_size=2, max_size=4), min_size=1, max_size=6),
    missing=st.sampled_from([(), ("open",), ("open", ""), ("7999", "")]),
)
def test_where_the_quick_way_answers_the_careful_way_says_the_same(
    rows: list[list[str]], missing: tuple[str, ...]
) -> None:
    text = "a,b,c\n" + "".join(",".join(row) + "\n" for row in rows)
    description = _description(missing)
    try:
        table = locate(text.encode(), description, "f")
    except BadInput:
        return
    wanted = Wanted(numbers=(0, 2), texts=(), missing=missing, decimal_mark="point")
    fast = quick(table, wanted)
    if fast is None:
        return
    complaints: list[BadInput] = []
    slow = careful(table, wanted, "f", complaints)
    assert complaints == []
    np.testing.assert_array_equal(fast.numbers, slow.numbers)
    np.testing.assert_array_equal(fast.rows, slow.rows)


@settings(max_examples=50, deadline=None)
@given(values=st.lists(st.floats(-273.15, 2000.0), min_size=1, max_size=8))
def test_any_number_written_in_full_comes_back_to_the_last_bit(values: list[float]) -> None:
    rows = "".join(f"2026-03-02 08:00:{i:02d},{value!r},0,\n" for i, value in enumerate(values))
    log = read_cure_log(("time,Z1,Z2,note\n" + rows).encode(), _description())
    np.testing.assert_array_equal(log.values[:, 0], np.array(values) + 273.15)


@pytest.mark.parametrize(
    "damaged",
    [
        GOOD.replace("\n2026", "\n\ufeff2026", 1),  # a byte order mark inside: two files joined
        GOOD.replace("note", '"note', 1),  # a quotation mark nobody closed
        GOOD.replace("-3", "-3\r"),  # a line end of another kind
        GOOD.replace("08:01:00", "08:\x0001:00"),
        GOOD.replace("24.25", "24.2\x005"),
    ],
)
def test_damage_once_found_by_chance(damaged: str) -> None:
    assert not _check(damaged.encode())
