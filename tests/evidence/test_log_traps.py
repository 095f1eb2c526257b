"""One small file for each way a log goes wrong, written by hand. Common practice, no source."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from bladewright.errors import BadInput, BladewrightError
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import LoggerDescription

Describe = Callable[..., LoggerDescription]
Refused = Callable[[bytes, LoggerDescription], tuple[BladewrightError, ...]]

GOOD = "time,Z1,Z2\n2026-02-02 08:00,21.5,22\n2026-02-02 08:01,23.25,-0.5\n2026-02-02 08:04,open,24\n"
KELVIN = np.array([[294.65, 295.15], [296.4, 272.65], [np.nan, 297.15]])


def test_a_plain_log_whole(describe: Describe) -> None:
    log = read_cure_log(GOOD.encode(), describe(), "cure.csv")
    np.testing.assert_allclose(log.values, KELVIN, rtol=1e-15)
    assert log.seconds.tolist() == [0.0, 60.0, 240.0]  # the hole stays a hole
    assert log.time_of(0) == "2026-02-02T13:00:00Z"
    assert log.rows.tolist() == [2, 3, 4]
    assert (log.channels[1].name, log.channels[1].role, log.channels[1].zone, log.channels[1].side) == (
        "Z2", "mould", "2", "top",
    )  # fmt: skip
    assert log.source.file == "cure.csv"
    assert log.order_certain
    assert log.remarks == ()


@pytest.mark.parametrize(
    ("encoding", "codec"),
    [
        ("utf-8", "utf-8"),
        ("utf-8", "utf-8-sig"),
        ("utf-8-sig", "utf-8-sig"),
        ("utf-8-sig", "utf-8"),
        ("utf-16", "utf-16"),
        ("latin-1", "latin-1"),
        ("windows-1252", "cp1252"),
    ],
)
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_encodings_marks_and_line_ends(describe: Describe, encoding: str, codec: str, line_end: str) -> None:
    log = read_cure_log(GOOD.replace("\n", line_end).encode(codec), describe(**{"file.encoding": encoding}))
    np.testing.assert_allclose(log.values, KELVIN, rtol=1e-15)
    assert log.rows.tolist() == [2, 3, 4]


def test_utf16_the_other_way_round_has_a_mark_too(describe: Describe) -> None:
    data = b"\xfe\xff" + GOOD.encode("utf-16-be")
    np.testing.assert_allclose(read_cure_log(data, describe(**{"file.encoding": "utf-16"})).values, KELVIN)


@pytest.mark.parametrize(
    ("data", "encoding"),
    [
        (GOOD.encode("utf-16"), "utf-8"),
        (GOOD.encode("utf-8"), "utf-16"),
        (GOOD.encode("utf-16-le"), "utf-8"),
        (GOOD.replace("Z2", "Z°").encode("latin-1"), "utf-8"),
        (GOOD.encode("utf-8-sig"), "latin-1"),
        (bytes(range(256)) * 4, "utf-8"),
        (bytes(range(256)) * 4, "latin-1"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "windows-1252"),
    ],
)
def test_another_encoding_is_named(describe: Describe, data: bytes, encoding: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_cure_log(data, describe(**{"file.encoding": encoding}), "cure.csv")
    assert caught.value.file == "cure.csv"
    assert caught.value.field == "file.encoding"
    assert caught.value.value == encoding


def test_semicolons_and_decimal_commas(describe: Describe) -> None:
    data = GOOD.replace(",", ";").replace(".", ",").encode()
    log = read_cure_log(data, describe(**{"file.delimiter": "semicolon", "file.decimal_mark": "comma"}))
    np.testing.assert_allclose(log.values, KELVIN, rtol=1e-15)


def test_decimal_commas_under_a_point_are_an_error(describe: Describe, refused: Refused) -> None:
    data = GOOD.replace(",", ";").replace(".", ",").encode()
    errors = refused(data, describe(**{"file.delimiter": "semicolon"}))
    assert [(error.row, error.column, error.value) for error in errors] == [
        (2, "Z1", "21,5"),
        (3, "Z1", "23,25"),
        (3, "Z2", "-0,5"),
    ]
    assert all("decimal_mark" in str(error.fix) for error in errors)


def test_decimal_points_under_a_comma_are_an_error(describe: Describe, refused: Refused) -> None:
    data = GOOD.replace(",", ";").encode()
    errors = refused(data, describe(**{"file.delimiter": "semicolon", "file.decimal_mark": "comma"}))
    assert [(error.row, error.value) for error in errors] == [(2, "21.5"), (3, "23.25"), (3, "-0.5")]


def test_fahrenheit(describe: Describe) -> None:
    channels = [{"column": "Z1", "role": "mould", "unit": "degF"}, {"column": "Z2", "role": "mould", "unit": "degF"}]
    data = b"time,Z1,Z2\n2026-02-02 08:00,250,-459.67\n2026-02-02 08:01,32,212\n"
    log = read_cure_log(data, describe(columns=channels))
    # 250 degF is 121.111 degC; -459.67 degF is absolute zero; the ice and steam points
    np.testing.assert_allclose(log.values, [[273.15 + 1090 / 9, 0.0], [273.15, 373.15]], atol=1e-9)


def test_pressure_is_kept_in_pascal(describe: Describe, refused: Refused) -> None:
    channels = [{"column": "Z1", "role": "mould", "unit": "degC"}, {"column": "Z2", "role": "pressure", "unit": "psi"}]
    log = read_cure_log(b"time,Z1,Z2\n2026-02-02 08:00,20,40\n", describe(columns=channels))
    assert log.values[0, 1] == pytest.approx(275_790.29, rel=1e-7)  # 1 psi = 6894.757 Pa
    (error,) = refused(b"time,Z1,Z2\n2026-02-02 08:00,20,-16\n", describe(columns=channels))
    assert (error.row, error.column, error.value) == (2, "Z2", -16.0)


def test_a_units_row_that_agrees(describe: Describe) -> None:
    data = b"time,Z1,Z2\n,Deg C,C\n2026-02-02 08:00,20,21\n"
    assert read_cure_log(data, describe(**{"table.units_row": 2, "table.first_row": 3})).rows.tolist() == [3]


def test_a_units_row_that_lies(describe: Describe, refused: Refused) -> None:
    data = b"time,Z1,Z2\n,degC,degF\n2026-02-02 08:00,20,21\n"
    (error,) = refused(data, describe(**{"table.units_row": 2, "table.first_row": 3}))
    assert (error.row, error.column, error.value, error.allowed) == (2, "Z2", "degF", "degC")


def test_a_unit_in_the_name_that_lies(describe: Describe, refused: Refused) -> None:
    channels = [
        {"column": "Z1 (F)", "role": "mould", "unit": "degC"},
        {"column": "Z2", "role": "mould", "unit": "degC"},
    ]
    (error,) = refused(b"time,Z1 (F),Z2\n2026-02-02 08:00,20,21\n", describe(columns=channels))
    assert (error.column, error.value, error.allowed) == ("Z1 (F)", "F", "degC")


def test_a_unit_in_its_own_column_that_changes(describe: Describe, refused: Refused) -> None:
    channels = [
        {"column": "Z1", "role": "mould", "unit": "degC", "unit_column": "U"},
        {"column": "Z2", "role": "mould", "unit": "degC"},
    ]
    data = b"time,U,Z1,Z2\n2026-02-02 08:00,C,20,21\n2026-02-02 08:01,F,68,21\n"
    (error,) = refused(data, describe(columns=channels))
    assert (error.row, error.column, error.value) == (3, "U", "F")


def test_a_file_cut_inside_its_last_number(describe: Describe) -> None:
    data = GOOD.encode()[:-1]
    with pytest.raises(BadInput) as caught:
        read_cure_log(data, describe(), "cure.csv")
    assert (caught.value.row, caught.value.value) == (4, "2026-02-02 08:04,open,24")
    log = read_cure_log(data, describe(**{"file.last_line_end": False}))
    assert [(remark.row, "cut" in remark.what) for remark in log.remarks] == [(4, True)]
    np.testing.assert_allclose(log.values, KELVIN, rtol=1e-15)


@pytest.mark.parametrize("cut", ["2026-02-02 08:05,2", "2026-02-02 08:05", "2026-0"])
def test_a_last_line_cut_short(describe: Describe, refused: Refused, cut: str) -> None:
    (error,) = refused(f"{GOOD}{cut}\n".encode(), describe())
    assert (error.row, error.value) == (5, cut)
    assert error.allowed == "3 cells"


@pytest.mark.parametrize("row", ["2026-02-02 08:05,20,21,22", "2026-02-02 08:05,20", "2026-02-02 08:05,20,21,"])
def test_extra_and_missing_cells(describe: Describe, refused: Refused, row: str) -> None:
    data = GOOD.replace("2026-02-02 08:04,open,24", f"{row}\n2026-02-02 08:06,open,24").encode()
    (error,) = refused(data, describe(missing=["open", ""]))
    assert (error.row, error.allowed) == (4, "3 cells")


def test_a_shifted_row(describe: Describe, refused: Refused) -> None:
    errors = refused(f"{GOOD}25,2026-02-02 08:05,26\n".encode(), describe())
    assert {(error.row, error.column, error.value) for error in errors} == {
        (5, "time", "25"),
        (5, "Z1", "2026-02-02 08:05"),
    }


def test_everything_wrong_is_said_at_once_and_nothing_is_read(describe: Describe, refused: Refused) -> None:
    data = b"time,Z1,Z2\n2026-02-02 08:00,x,1\n2026-02-30 08:01,1,1\n2026-02-02 08:02,1,\n2026-02-02 08:03,-274,1\n"
    errors = refused(data, describe())
    assert [(error.row, error.column) for error in errors] == [(2, "Z1"), (3, "time"), (4, "Z2"), (5, "Z1")]
    assert all(error.allowed and error.fix for error in errors)


def test_a_long_list_is_capped_and_counted(describe: Describe, refused: Refused) -> None:
    rows = "".join(f"2026-02-02 08:{minute:02d},?,1\n" for minute in range(50))
    errors = refused(f"time,Z1,Z2\n{rows}".encode(), describe())
    assert len(errors) == 21
    assert errors[0].row == 2
    assert errors[-1].value == 30


@pytest.mark.parametrize(
    "word", ["nan", "NaN", "inf", "-inf", "infinity", "1e999", "1_0", "0x10", "12 3", "1.2.3", "٣"]
)
def test_words_python_or_polars_would_take_for_numbers(describe: Describe, refused: Refused, word: str) -> None:
    (error,) = refused(f"{GOOD}2026-02-02 08:05,{word},1\n".encode(), describe())
    assert (error.row, error.column, error.value) == (5, "Z1", word)


@pytest.mark.parametrize("cell", ["7999", "7999.0", "+7999", " 7999 "])
def test_a_number_that_means_no_reading(describe: Describe, cell: str) -> None:
    log = read_cure_log(f"{GOOD}2026-02-02 08:05,{cell},1\n".encode(), describe(missing=["open", "7999"]))
    assert np.isnan(log.values[3, 0])


def test_an_empty_cell_needs_to_be_declared(describe: Describe, refused: Refused) -> None:
    data = f"{GOOD}2026-02-02 08:05,,1\n".encode()
    (error,) = refused(data, describe())
    assert (error.row, error.column, error.value) == (5, "Z1", "")
    assert np.isnan(read_cure_log(data, describe(missing=["open", ""])).values[3, 0])


@pytest.mark.parametrize("data", [b"", b"time,Z1,Z2\n", b"time,Z1,Z2", b"time,Z1,Z2\n\n\n", b"\n"])
def test_empty_files_and_headers_alone(describe: Describe, data: bytes) -> None:
    with pytest.raises(BadInput) as caught:
        read_cure_log(data, describe(), "cure.csv")
    assert caught.value.file == "cure.csv"


@pytest.mark.parametrize(
    ("rows", "row", "words"),
    [
        ("2026-02-02 08:00,1,1\n2026-02-02 08:00,1,1\n", 3, "same time as row 2"),
        ("2026-02-02 08:01,1,1\n2026-02-02 08:00,1,1\n", 3, "before the time of row 2"),
    ],
)
def test_times_that_do_not_go_on(describe: Describe, refused: Refused, rows: str, row: int, words: str) -> None:
    (error,) = refused(f"time,Z1,Z2\n{rows}".encode(), describe())
    assert (error.row, error.column) == (row, "time")
    assert words in error.what


def test_newest_first_is_put_in_order_only_where_the_order_is_not_declared(describe: Describe) -> None:
    data = b"time,Z1,Z2\n2026-02-02 08:02,3,1\n2026-02-02 08:01,2,1\n2026-02-02 08:00,1,1\n"
    log = read_cure_log(data, describe(**{"time.file_order_is_time_order": False}))
    assert log.rows.tolist() == [4, 3, 2]
    assert log.seconds.tolist() == [0.0, 60.0, 120.0]
    np.testing.assert_allclose(log.values[:, 0], [274.15, 275.15, 276.15])


def test_elapsed_minutes(describe: Describe, refused: Refused) -> None:
    time = {"columns": ["time"], "zone": "elapsed", "unit": "min", "file_order_is_time_order": True}
    log = read_cure_log(b"time,Z1,Z2\n-0.5,1,1\n1,1,1\n2.25,1,1\n", describe(time=time))
    assert log.start is None
    assert log.seconds.tolist() == [0.0, 90.0, 165.0]
    assert "-30 s" in log.remarks[0].what
    (error,) = refused(b"time,Z1,Z2\n0,1,1\nopen,1,1\n", describe(time=time))
    assert (error.row, error.column) == (3, "time")


def test_undeclared_columns_are_refused_unless_ignored(describe: Describe, refused: Refused) -> None:
    data = b"time,Z1,Z2,Z3\n2026-02-02 08:00,1,1,oven door\n"
    (error,) = refused(data, describe())
    assert error.column == "Z3"
    assert len(read_cure_log(data, describe(ignore_other_columns=True)).channels) == 2


def test_a_column_that_is_not_there_or_there_twice(describe: Describe) -> None:
    for header, value in (("time,Z1,Z3", "Z2"), ("time,Z1,Z1", "Z1")):
        with pytest.raises(BadInput) as caught:
            read_cure_log(f"{header}\n2026-02-02 08:00,1,1\n".encode(), describe(), "cure.csv")
        assert caught.value.value == value
        assert str(caught.value.field).startswith("columns.")


def test_columns_by_number_without_names(describe: Describe) -> None:
    channels = [{"column": 3, "role": "heater", "zone": "4", "unit": "degC", "name": "heater 4"}]
    how = describe(
        columns=channels,
        ignore_other_columns=True,
        **{"table.names_row": None, "table.first_row": 1, "time.columns": [1]},
    )
    log = read_cure_log(b"2026-02-02 08:00,1,2\n", how)
    assert (log.channels[0].name, log.values[0, 0]) == ("heater 4", 275.15)


def test_a_table_that_ends_before_the_file_does(describe: Describe) -> None:
    for ends_before, tail in (("", "\nmax,24\n"), ("Summary", "Summary,1\nmax,24\n")):
        log = read_cure_log((GOOD + tail).encode(), describe(**{"table.ends_before": ends_before}))
        assert log.rows.tolist() == [2, 3, 4]
        assert [remark.row for remark in log.remarks] == [5]


def test_quoted_cells_and_a_quoted_delimiter(describe: Describe) -> None:
    data = b'"time","Z1","Z2","note"\n"2026-02-02 08:00","20",21,"door, open"\n'
    log = read_cure_log(data, describe(ignore_other_columns=True))
    np.testing.assert_allclose(log.values, [[293.15, 294.15]])


def test_the_same_bytes_have_the_same_name(describe: Describe) -> None:
    # SHA-256 of "abc": FIPS 180-4 example; any byte changed gives another name
    first, second = (read_cure_log(data, describe()).source.sha256 for data in (GOOD.encode(), GOOD.encode() + b"\n"))
    assert first == read_cure_log(GOOD.encode(), describe(), "copy of cure.csv").source.sha256
    assert first != second


def test_a_file_wrong_all_through_is_not_looked_through_to_its_end(describe: Describe, refused: Refused) -> None:
    rows = "".join(f"2026-02-{1 + i // 1440:02d} {i // 60 % 24:02d}:{i % 60:02d},?,1\n" for i in range(5000))
    errors = refused(f"time,Z1,Z2\n{rows}".encode(), describe())
    assert len(errors) == 21
    assert "at least" in errors[-1].what


def test_a_path_that_is_not_there_is_named(describe: Describe, tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read_cure_log(tmp_path / "gone.csv", describe())
    assert caught.value.file == "gone.csv"
    (tmp_path / "here.csv").write_bytes(GOOD.encode())
    assert read_cure_log(tmp_path / "here.csv", describe()).source.file == "here.csv"


@pytest.mark.parametrize("row", ['2026-02-02 08:05,"21,22', '2026-02-02 08:05,2"1,22', '2026-02-02 08:05,"2"1,22'])
def test_a_quotation_mark_out_of_place_is_not_passed_over(describe: Describe, refused: Refused, row: str) -> None:
    errors = refused(f"{GOOD}{row}\n".encode(), describe())
    assert errors[0].row == 5
