"""A suggested description guesses nothing silently: what a log does not tell stays open, and is refused by its field.

Outside truth: descriptions written by people, for the demo's logger and for other people's instruments.
"""

import contextlib
import dataclasses
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import parse_logger_description, read_logger_description
from bladewright.evidence.suggested_description import still_open, suggested_description
from examples.fennmark.evidence import Evidence, write_evidence

HERE = Path(__file__).parent
LOGS = [
    path.stem for path in sorted((HERE / "descriptions").glob("*.toml")) if "[time]" in path.read_text(encoding="utf-8")
]
LOG = """Date;Clock;Mould 1;Heater 1 (C);Bladder
;;degF;;psi
{first};08:00;70,4;21,5;0,2
{second};08:01;open;22,5;41,8
"""
#: the zone and the person, as a shop would enter them
ENTERED = {
    'name = "?"': 'name = "blade oven logger"',
    'confirmed_by = "?"': 'confirmed_by = "Tolvan Merrabeck"',
    'zone = "?"': 'zone = "Europe/London"',
}


def _log(first: str = "02.03.2026", second: str = "02.03.2026") -> str:
    return LOG.format(first=first, second=second)


def _suggested(text: str) -> str:
    return suggested_description(text.encode(), "run.csv")


def _confirmed(text: str) -> str:
    for old, new in ENTERED.items():
        assert old in text
        text = text.replace(old, new)
    return text


def _open_fields(text: str) -> set[str | None]:
    """What the reader refuses; the suggestion itself is always refused."""
    with pytest.raises(SeveralBadInputs) as caught:
        parse_logger_description(text.encode(), "logger.toml")
    assert {error.file for error in caught.value.errors} == {"logger.toml"}
    return {error.field for error in caught.value.errors if error.what.startswith("is still open")}


@pytest.fixture(scope="module", name="demo")
def _demo(tmp_path_factory: pytest.TempPathFactory) -> Evidence:
    return write_evidence(tmp_path_factory.mktemp("demo"))


def test_the_confirmed_suggestion_reads_the_demo_as_the_shops_own_description(demo: Evidence) -> None:
    by_hand = read_logger_description(demo.logger)
    proven = 0
    for blade in demo.blades:
        text = suggested_description(blade.cure.read_bytes(), blade.cure.name)
        open_now = _open_fields(text)
        assert {"name", "confirmed_by", "time.zone"} <= open_now <= {"name", "confirmed_by", "time.zone", "time.format"}
        proven += "time.format" not in open_now
        text = _confirmed(text).replace('format = "?"', 'format = "%d/%m/%Y %H:%M:%S"')
        ours = read_cure_log(blade.cure, parse_logger_description(text.encode(), "suggested.toml"))
        theirs = read_cure_log(blade.cure, by_hand)
        for field in dataclasses.fields(theirs):
            one, other = getattr(ours, field.name), getattr(theirs, field.name)
            np.testing.assert_array_equal(one, other) if isinstance(one, np.ndarray) else None
            assert isinstance(one, np.ndarray) or one == other, field.name
    assert proven, "no log of the demo has a day above 12"


@pytest.mark.parametrize(
    ("first", "second", "format_"),
    [
        ("13.03.2026", "13.03.2026", "%d.%m.%Y %H:%M"),
        ("03.13.2026", "03.13.2026", "%m.%d.%Y %H:%M"),
        ("12.03.2026", "13.03.2026", "%d.%m.%Y %H:%M"),
        ("2026-03-13", "2026-03-13", "%Y-%m-%d %H:%M"),
        ("02-Mar-2026", "02-Mar-2026", "%d-%b-%Y %H:%M"),
    ],
)
def test_a_number_above_twelve_proves_the_order_of_day_and_month(first: str, second: str, format_: str) -> None:
    text = _suggested(_log(first, second))
    assert "time.format" not in _open_fields(text)
    assert f'format = "{format_}"' in text


@pytest.mark.parametrize("day", ["02.03.2026", "12.12.2026", "2026-03-02", "02.03.26", "13.13.2026", "32.01.2026"])
def test_anything_else_leaves_it_open(day: str) -> None:
    assert "time.format" in _open_fields(_suggested(_log(day, day)))


def test_both_orders_are_named_where_either_could_be() -> None:
    (line,) = [line for line in _suggested(_log()).splitlines() if line.startswith("format = ") and "?" in line]
    assert '"%d.%m.%Y %H:%M" or "%m.%d.%Y %H:%M"' in line


def test_days_that_prove_both_orders_prove_none() -> None:
    assert "time.format" in _open_fields(_suggested(_log("13.03.2026", "03.14.2026")))


def test_a_small_log_worked_by_hand() -> None:
    data = _log("13.03.2026", "13.03.2026").encode()
    read = read_cure_log(data, parse_logger_description(_confirmed(_suggested(data.decode())).encode(), "l"), "run.csv")
    assert [(c.name, c.role, c.zone) for c in read.channels] == [
        ("Mould 1", "mould", "1"), ("Heater 1 (C)", "heater", "1"), ("Bladder", "pressure", ""),
    ]  # fmt: skip
    assert read.time_of(0) == "2026-03-13T08:00:00Z"  # before the clocks change, London keeps UTC
    assert read.values[0, 0] == pytest.approx(273.15 + 64.0 / 3.0)  # 70.4 degF is 64/3 degC
    assert np.isnan(read.values[1, 0])
    assert read.values[1, 1] == pytest.approx(273.15 + 22.5)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("Mould 1", "Probe 1", "columns.1.role"),
        ("Mould 1", "Mould heater 1", "columns.1.role"),
        ("Mould 1", "Mould", "columns.1.zone"),
        ("Mould 1", "Mould 1 (3 mm)", "columns.1.zone"),
        ("degF", "", "columns.1.unit"),
        ("degF", "psi", "columns.1.unit"),
        ("Heater 1 (C)", "Heater 1 (K)", "columns.2.unit"),
        ("Mould 1", "Mould 1 (C)", "columns.1.unit"),
        ("70,4;21,5;0,2", "70.4;21,5;0,2", "file.decimal_mark"),
        ("70,4;21,5;0,2\n13.03.2026;08:01;open;22,5;41,8", "70;21;0\n13.03.2026;08:01;open;22;41", "file.decimal_mark"),
        ("70,4;21,5;0,2\n13.03.2026;08:01;open;22,5;41,8", "70;21;0\n13.03.2026;08:01;open;22;1,041",
         "file.decimal_mark"),
        ("41,8\n", "41,8", "file.last_line_end"),
        ("08:01", "08:00", "time.file_order_is_time_order"),
        ("13.03.2026;08", "13 March 26;08", "time.columns"),
    ],
)  # fmt: skip
def test_what_the_file_does_not_tell_is_refused_by_its_field(old: str, new: str, field: str) -> None:
    plain = _log("13.03.2026", "13.03.2026")
    assert old in plain
    assert field not in _open_fields(_suggested(plain))
    assert field in _open_fields(_suggested(plain.replace(old, new)))


def test_two_encodings_that_would_both_read_it_stay_open() -> None:
    data = _log().replace("degF", "°F").encode("latin-1")
    assert "file.encoding" in _open_fields(suggested_description(data, "run.csv"))


def test_nothing_behind_a_blank_line_is_left_out_unseen() -> None:
    assert "ARE NOT READ" in _suggested(_log() + "\nHighest;;77,6;75,9;88,1\n")
    assert "ends_before" not in _suggested(_log() + "\n02.03.2026;08:02;70,4;21,5;0,2\n")


@pytest.mark.parametrize(
    ("data", "field"),
    [(b"", None), (b"\n\n", None), (b"only words\nand more\n", None), (b"\0\0\0", "file.encoding"),
     (_log().encode("utf-16-le"), "file.encoding"), (b"\xff\xfe\x00", "file.encoding")],
)  # fmt: skip
def test_what_is_no_log_is_refused(data: bytes, field: str | None) -> None:
    with pytest.raises(BadInput) as caught:
        suggested_description(data, "run.csv")
    assert caught.value.file == "run.csv"
    assert caught.value.allowed
    assert caught.value.fix
    assert caught.value.field == field


@pytest.mark.parametrize("name", ['"a ""b"" \\ #"', "?", "\u00e9"])
def test_no_name_breaks_the_description(name: str) -> None:
    assert "confirmed_by" in _open_fields(_suggested(_log().replace("Mould 1", name)))


@pytest.mark.parametrize("name", ["a\x1b[2J", "a\u202eb", "a\x7f", "temp\U000e0001"])
def test_a_name_that_shows_otherwise_than_it_reads_is_refused_where_it_stands(name: str) -> None:
    with pytest.raises(BadInput) as caught:
        _suggested(_log().replace("Mould 1", name))
    assert (caught.value.file, caught.value.row, caught.value.column) == ("run.csv", 1, "number 3")


def test_what_a_terminal_would_obey_is_written_out_in_a_comment() -> None:
    text = _suggested(_log().replace("psi", "\x1b[2J"))
    assert all(letter.isprintable() or letter == "\n" for letter in text)
    assert "columns.3.unit" in _open_fields(text)


@pytest.mark.outside
@pytest.mark.parametrize("stem", LOGS)
def test_other_peoples_logs_agree_with_what_people_wrote_of_them(stem: str, shared: Path) -> None:
    (found,) = (shared / "data" / "temperature").glob(f"{stem}.*")
    text = suggested_description(found.read_bytes(), found.name)
    open_now = _open_fields(text)
    assert {"name", "confirmed_by", "time.zone"} <= open_now
    by_hand = read_logger_description(HERE / "descriptions" / f"{stem}.toml")
    guesses = {line.split("  # ")[0] for line in text.splitlines() if "# guess: " in line}
    assert ("time.format" in open_now) == (stem == "sonde_utf16_plain")  # no day above 12
    if by_hand.time.format and "time.format" not in open_now:
        assert f'format = "{by_hand.time.format}"' in guesses
    assert f'delimiter = "{by_hand.file.delimiter}"' in guesses
    assert f'decimal_mark = "{by_hand.file.decimal_mark}"' in guesses
    assert f"names_row = {by_hand.table.names_row}" in guesses
    assert f"first_row = {by_hand.table.first_row}" in guesses


def test_every_log_that_is_there_has_been_described(shared: Path) -> None:
    for path in sorted((shared / "data" / "temperature").iterdir()):
        assert _open_fields(suggested_description(path.read_bytes(), path.name)) >= {"confirmed_by", "time.zone"}


@settings(max_examples=100, deadline=None)
@given(st.integers(0, len(_log())), st.binary(max_size=6), st.integers(0, 6))
def test_damaged_bytes_make_a_refused_suggestion_or_an_error(place: int, put: bytes, cut: int) -> None:
    data = _log().encode()
    text = ""
    with contextlib.suppress(BadInput):
        text = suggested_description(data[:place] + put + data[place + cut :], "run.csv")
    assert not text or {"confirmed_by", "time.zone"} <= set(still_open(text, "logger.toml"))
